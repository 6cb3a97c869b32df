package stand

import (
	"math"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/survey"
)

// TestPlaceInsideAnOutline: the middle if it is inside, on any turn of the globe; otherwise a place
// inside; by hand. An empty outline gives its middle.
func TestPlaceInsideAnOutline(t *testing.T) {
	square := Pack(orb.MultiPolygon{{{{10, 50}, {10.01, 50}, {10.01, 50.01}, {10, 50.01}, {10, 50}}}})
	if got := square.Inside(orb.Point{10.005, 50.005}); math.Hypot(got[0]-10.005, got[1]-50.005) > 1e-6 {
		t.Error(got)
	}
	for _, west := range []float64{179.999, -180.001} {
		across := Pack(orb.MultiPolygon{{{{west, 0}, {west + 0.004, 0}, {west + 0.004, 0.002}, {west, 0.002}, {west, 0}}}})
		got := across.Inside(orb.Point{-179.999, 0.001})
		if math.Hypot(got[0]+179.999, got[1]-0.001) > 1e-6 {
			t.Errorf("from %g: %v", west, got)
		}
	}
	// a ring about its middle
	ring := Pack(orb.MultiPolygon{{
		{{0, 0}, {0.01, 0}, {0.01, 0.01}, {0, 0.01}, {0, 0}}, {{0.001, 0.001}, {0.001, 0.009}, {0.009, 0.009}, {0.009, 0.001}, {0.001, 0.001}},
	}})
	got := ring.Inside(orb.Point{0.005, 0.005})
	in := func(x float64) bool { return x > 0 && x < 0.001 || x > 0.009 && x < 0.01 }
	if !in(got[0]) && !in(got[1]) || min(got[0], got[1]) < 0 || max(got[0], got[1]) > 0.01 {
		t.Error(got)
	}
	if got := (Outline{}).Inside(orb.Point{3, 4}); got != (orb.Point{3, 4}) {
		t.Error(got)
	}
}

// TestWhatBuildTells: status, days, height and defaults from the records of a stand, by hand: the
// status that needs the most work, the first and last known day, the tallest stem.
func TestWhatBuildTells(t *testing.T) {
	day := func(d int) survey.Day { return survey.DayOf(time.Date(2026, 7, d, 0, 0, 0, 0, time.UTC)) }
	rec := func(status survey.Status, begin, end survey.Day, height float64) survey.Record {
		return survey.Record{Position: orb.Point{10, 50}, Detected: true, PatchArea: 50, Cover: 40, StemHeight: geo.Meters(height), Status: status, Begin: begin, End: end}
	}
	nan := math.NaN()
	for name, test := range map[string]struct {
		records     []survey.Record
		status      survey.Status
		first, last survey.Day
		height      float64
	}{
		"regrowth first": {[]survey.Record{rec(survey.Untreated, day(3), day(4), nan), rec(survey.Resprout, day(2), day(2), 3), rec(survey.Treated, day(9), day(9), 2)}, survey.Resprout, day(2), day(9), 3},
		"then untouched": {[]survey.Record{rec(survey.StandingDead, 0, 0, nan), rec(survey.Treated, day(5), day(6), nan), rec(survey.Untreated, 0, 0, 1.5)}, survey.Untreated, day(5), day(6), 1.5},
		"then treated":   {[]survey.Record{rec(survey.StandingDead, day(8), day(8), 4), rec(survey.Treated, day(7), day(7), 2)}, survey.Treated, day(7), day(8), 4},
		"then dead":      {[]survey.Record{rec(survey.StandingDead, 0, 0, nan)}, survey.StandingDead, 0, 0, nan},
	} {
		members := make([]int32, len(test.records))
		for i := range members {
			members[i] = int32(i)
		}
		st := Build(test.records, members, DefaultSettings())
		if st.Status != test.status || !st.First.Equal(test.first.Time()) || !st.Last.Equal(test.last.Time()) {
			t.Errorf("%s: %s, %v to %v", name, st.Status, st.First, st.Last)
		}
		if float64(st.StemHeight) != test.height && !(math.IsNaN(float64(st.StemHeight)) && math.IsNaN(test.height)) {
			t.Errorf("%s: %g m", name, st.StemHeight)
		}
		if len(st.Assumed) != 0 {
			t.Errorf("%s: %v", name, st.Assumed)
		}
	}
	bare := rec(survey.Untreated, 0, 0, nan)
	bare.PatchArea, bare.Cover = 0, nan
	if st := Build([]survey.Record{bare}, []int32{0}, DefaultSettings()); len(st.Assumed) != 2 || st.Assumed[0] != AssumedCover || st.Assumed[1] != AssumedPatch {
		t.Errorf("%v", st.Assumed)
	}
	dead := rec(survey.StandingDead, 0, 0, nan)
	dead.Cover = nan // dead plants have no canopy to assume
	if st := Build([]survey.Record{dead}, []int32{0}, DefaultSettings()); len(st.Assumed) != 0 || st.Canopy != 0 {
		t.Errorf("%v", st.Assumed)
	}
}

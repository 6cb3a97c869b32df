package batch

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/aquatic"
	"driftreach/internal/host"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// TestPartsOfStandsAddUp: for any stands and any area that was treated, the two parts of
// a stand have its acres as printed, its exposure and no more than its reach, and each
// the place to go to in its own ground; the order knows the rest alone.
func TestPartsOfStandsAddUp(t *testing.T) {
	split := 0
	rapid.Check(t, func(t *rapid.T) {
		in := drawQuarter(t, survey.Quarter{Year: 2026, Number: 3})
		for i := range in.Records.Listed {
			in.Records.Listed[i].Status = survey.Status(rapid.SampledFrom([]int{0, 0, 0, 1}).Draw(t, "kind"))
		}
		for range rapid.IntRange(1, 3).Draw(t, "areas") {
			x, y := rapid.Float64Range(-50, 900).Draw(t, "west"), rapid.Float64Range(-550, 500).Draw(t, "south")
			w, h := rapid.Float64Range(5, 400).Draw(t, "wide"), rapid.Float64Range(5, 400).Draw(t, "high")
			corner := func(x, y float64) orb.Point { return chainFrame.Inverse(orb.Point{x, y}) }
			ring := orb.Ring{corner(x, y), corner(x+w, y), corner(x+w, y+h), corner(x, y+h), corner(x, y)}
			in.WorkGiven = true
			in.Actions = append(in.Actions, treatment.Treatment{
				Date: in.Quarter.End(), Placed: true, Position: corner(x+w/2, y+h/2), Ground: orb.MultiPolygon{{ring}}, TreatedAcres: math.NaN(), Application: treatment.Application{Amount: math.NaN(), Wind: math.NaN(), Temperature: math.NaN(), Hours: math.NaN()},
			})
		}
		run, err := Compute(context.Background(), in, chainSettings(), host.Host{Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		parts := result.PartsOfStands(run)
		for k := 0; k < len(parts); k += 2 {
			s, rest, done := &run.Stands[parts[k].Stand], &parts[k], &parts[k+1]
			if rest.Ground == nil || done.Ground == nil {
				continue // beside the stand: by its acres
			}
			split++
			near := func(what string, got, want, within float64) {
				if math.Abs(got-want) > within {
					t.Fatalf("%s of %s: %v, want %v", what, s.ID, got, want)
				}
			}
			near("exposure", float64(rest.Drift.Exposure+done.Drift.Exposure), float64(s.Drift.Exposure), float64(1e-9*s.Drift.Exposure))
			near("acres of the rest", float64(rest.Grains), float64(s.Infested.Grains())*(1-s.Done.Share), 1e6)
			if most := s.Drift.ReachKm + 1e-9; rest.Drift.ReachKm > most || done.Drift.ReachKm > most || rest.Drift.ReachKm+done.Drift.ReachKm < s.Drift.ReachKm-1e-9 {
				t.Fatalf("%s reaches %v km, its parts %v and %v", s.ID, s.Drift.ReachKm, rest.Drift.ReachKm, done.Drift.ReachKm)
			}
			mustHold(t, s.ID, rest.Ground, rest.At)
			mustHold(t, s.ID, done.Ground, done.At)
		}
		for i, step := range run.Steps {
			if s := &run.Stands[step.Stand]; i > 0 && step.Treat && s.Done.Share == 1 {
				t.Fatalf("%s is treated whole and asks for treatment", s.ID)
			}
		}
	})
	t.Logf("%d stands in two", split)
}

// mustHold holds that a place lies in an area.
func mustHold(t *rapid.T, id string, area orb.MultiPolygon, at orb.Point) {
	if !stand.NearArea(area, at, at, 0) {
		t.Fatalf("%s: %v lies outside of %v", id, at, area)
	}
}

// TestWetRest: what is left of a stand touches the zone where a patch in it is left, all or a part;
// by hand.
func TestWetRest(t *testing.T) {
	touches := []aquatic.Touch{{Record: 0, InZone: true}, {Record: 1}}
	for _, c := range []struct {
		whole, inZone bool
		left          map[int32]geo.Share
		want          bool
	}{
		{true, true, nil, true}, {true, false, nil, false},
		{false, true, map[int32]geo.Share{0: 0, 1: 1}, false}, {false, true, map[int32]geo.Share{0: 1, 1: 0}, true}, {false, true, map[int32]geo.Share{0: 0.2, 1: 1}, true},
	} {
		k := computation{left: c.left, treatedAt: []int32{1}, touches: [][]aquatic.Touch{touches}, members: []aquatic.Membership{{InZone: c.inZone}}}
		if c.whole {
			k.treatedAt[0] = -1
		}
		if got := k.wetRest(0); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

package batch

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/stream"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/treatable"
	"driftreach/internal/work"
)

// nextQuarter is a quarter on a stream of 2 km running south, with one plant 100 m below its
// head where it is found, people having walked between two places on both banks, in metres
// below the head.
func nextQuarter(q survey.Quarter, found bool, from, to float64) observed.Quarter {
	at := func(x, down float64) orb.Point { return chainFrame.Inverse(orb.Point{x, 1000 - down}) }
	in := observed.Quarter{
		Quarter: q, SurveyedGiven: true, WorksGiven: true,
		Centerlines: []stream.Centerline{{ID: "a", Name: "Long Water", FlowShare: geo.Share(math.NaN()), BarrierPass: geo.Share(math.NaN()), Path: orb.LineString{at(0, 0), at(0, 2000)}}},
		Surveyed:    []surveyed.Ground{{Row: 1, Areas: orb.MultiPolygon{{{at(-40, from), at(40, from), at(40, to), at(-40, to), at(-40, from)}}}}},
		Works: []work.Work{
			{ID: "w1", Kind: work.Earthwork, Lines: orb.MultiLineString{{at(-20, 700), at(20, 700)}}},
			{ID: "w2", Kind: work.Mowing, Lines: orb.MultiLineString{{at(-20, 20), at(20, 20)}}}, // above the plant
		},
	}
	if found {
		in.Records.Listed = []survey.Record{{ID: "p", Position: at(2, 100), Detected: true, PatchArea: 80, Cover: 50, StemHeight: geo.Meters(math.NaN())}}
	}
	return in
}

// TestWhereToLookNextThroughFolders: three quarters, each reading the folder of the one before. The
// first 500 m are looked at in the first, the next 500 m in the second, the rest never. The plant
// stands in all three and sends down as much in each, so that by hand what floated by since is two
// quarters of it on the first stretch, one on the second, and three on the others. Works below the
// plant are a place to look in every quarter; works above it are none. How to come there
// is what the programme's table of permissions says of the stand.
func TestWhereToLookNextThroughFolders(t *testing.T) {
	dir, last, q := t.TempDir(), "", survey.Quarter{Year: 2026, Number: 1}
	s := chainSettings()
	s.SurveyNext.Stretch, s.SurveyNext.Near = 0.6, 300 // four of half a kilometre
	var run *result.Run
	for k, walked := range [][2]float64{{-30, 500}, {500, 1000}, {-300, -250}} {
		in := nextQuarter(q, k == 0, walked[0], walked[1])
		if k == 2 {
			in.Treatable = []treatable.Rule{{Row: 1, StandID: "2026Q1-0001", Access: "by boat from the ford", Factor: math.NaN()}}
		}
		l := link{in: in, dir: filepath.Join(dir, q.String()), settings: &s}
		run = l.deliver(t, last, 1)
		last, q = l.dir, q.Next()
	}
	if len(run.Stretches) != 4 {
		t.Fatalf("%d stretches, want four equal parts of 2 km", len(run.Stretches))
	}
	want := []struct {
		look     string
		quarters float64
		works    []int32
		access   []string
	}{
		{"2026Q1", 2, nil, []string{"by boat from the ford"}},
		{"2026Q2", 1, []int32{0}, nil},
		{"-2026Q1", 3, nil, nil},
		{"-2026Q1", 3, nil, nil},
	}
	slices.SortFunc(run.Stretches, func(a, b stretch.Stretch) int { return int(1000 * (b.FromKm - a.FromKm)) })
	for i, w := range want {
		one := &run.Stretches[i]
		if ratio := one.Exposure / one.Now; math.Abs(float64(ratio)-w.quarters) > 1e-6 {
			t.Errorf("%s: what floated by since is %.6f quarters of it, want %g", one.ID, ratio, w.quarters)
		}
		if one.Last.String() != w.look || !slices.Equal(one.Works, w.works) || !slices.Equal(one.Access, w.access) {
			t.Errorf("%s: last looked at %s, works %v, access %q; want %+v", one.ID, one.Last, one.Works, one.Access, w)
		}
	}
}

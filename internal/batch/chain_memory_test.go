package batch

import (
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// row of plants along x = 50 m, 20 m apart from y = 0, each of 80 m2 and none over
// another.
const plantArea = 80

// seenAt is one quarter's records: plants found at some steps of 20 m, and absences,
// each looking 20 m around, at some distances.
func seenAt(q survey.Quarter, found []int, absent ...float64) observed.Quarter {
	in := observed.Quarter{Quarter: q, Centerlines: chainStreams}
	add := func(id string, y float64, detected bool) {
		in.Records.Listed = append(in.Records.Listed, survey.Record{
			ID: id, Position: chainFrame.Inverse(orb.Point{50, y}), Detected: detected, PatchArea: geo.SquareMeters(plantArea * ones(detected)),
			Cover: 50, StemHeight: geo.Meters(math.NaN()),
		})
	}
	for _, k := range found {
		add(fmt.Sprintf("a%02d", k), 20*float64(k), true)
	}
	for k, y := range absent {
		add(fmt.Sprintf("z%02d", k), y, false)
	}
	return in
}

func ones(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func steps(from, to int) []int {
	var out []int
	for k := from; k <= to; k++ {
		out = append(out, k)
	}
	return out
}

// TestFoundAgainIsPairedWithNotDetected: ten plants in a row of which some are missed
// and found again later, by hand, in plants of 80 m2. A missed plant adds neither to
// the cleared acres nor to the new ones, and there are never more than ten.
func TestFoundAgainIsPairedWithNotDetected(t *testing.T) {
	type want struct{ observed, again, notDetected, isNew, ever, missing int }
	q := survey.Quarter{Year: 2026, Number: 1}
	all := []float64{8, 28, 48, 68, 88, 108, 128, 148, 168, 188}
	for _, test := range []struct {
		name     string
		quarters []observed.Quarter
		want     []want // from the second on
	}{
		// from 108 m on is looked at: plants 5 to 9
		{"the tip", []observed.Quarter{seenAt(q, steps(0, 9)), seenAt(q, nil, all[5:]...), seenAt(q, steps(0, 9))},
			[]want{{0, 0, 5, 0, 10, 5}, {0, 5, 0, 0, 10, 0}}},
		{"the tip, and more", []observed.Quarter{seenAt(q, steps(0, 7)), seenAt(q, nil, append(all[5:8:8], 168, 188)...), seenAt(q, steps(0, 9))},
			[]want{{0, 0, 3, 0, 8, 3}, {2, 3, 0, 0, 10, 0}}},
		{"all of it, bit by bit", []observed.Quarter{seenAt(q, steps(0, 9)), seenAt(q, nil, all...), seenAt(q, steps(0, 2)), seenAt(q, steps(0, 5)), seenAt(q, steps(0, 9))},
			[]want{{0, 0, 10, 0, 10, 10}, {0, 3, 0, 0, 10, 7}, {0, 3, 0, 0, 10, 4}, {0, 4, 0, 0, 10, 0}}},
		// by ground: of plants 8 to 12, 8 and 9 stand where an absence was recorded, the others beside it
		{"half beside it", []observed.Quarter{seenAt(q, steps(0, 9)), seenAt(q, nil, append(all[:10:10], 208, 228, 248, 268)...), seenAt(q, steps(8, 12))},
			[]want{{0, 0, 10, 0, 10, 10}, {3, 2, 0, 0, 10, 8}}},
		{"all beside it", []observed.Quarter{seenAt(q, steps(0, 9)), seenAt(q, nil, append(all[:10:10], 208, 228, 248, 268)...), seenAt(q, steps(10, 12))},
			[]want{{0, 0, 10, 0, 10, 10}, {3, 0, 0, 0, 10, 10}}},
		// a stand that was seen to shrink was not missed: it grows again
		{"shrunk and grown", []observed.Quarter{seenAt(q, steps(0, 9)), seenAt(q, steps(0, 5), 148, 168, 188), seenAt(q, steps(0, 9))},
			[]want{{-4, 0, 0, 0, 10, 0}, {4, 0, 0, 0, 10, 0}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			dir, last, quarter := t.TempDir(), "", q
			for k, in := range test.quarters {
				in.Quarter = quarter
				l := link{in: in, dir: filepath.Join(dir, quarter.String())}
				run := l.deliver(t, last, 1)
				last, quarter = l.dir, quarter.Next()
				if k == 0 {
					continue
				}
				ever, missing := int64(0), int64(0)
				for i := range run.Stands {
					ever, missing = ever+run.Stands[i].Memory.Ever, missing+run.Stands[i].Memory.Missing
				}
				for i := range run.Absent {
					ever, missing = ever+run.Absent[i].Memory.Ever, missing+run.Absent[i].Memory.Missing
				}
				c := result.Summarize(run)[0].Change
				got := want{plantsOf(c.Observed), plantsOf(c.FoundAgain), plantsOf(c.NotDetected), plantsOf(c.New + c.FirstLooked), plantsOf(ever), plantsOf(missing)}
				if got != test.want[k-1] {
					t.Errorf("%s: %+v, want %+v", run.Quarter, got, test.want[k-1])
				}
			}
		})
	}
}

// plantsOf returns how many plants acres are, to the nearest.
func plantsOf(grains int64) int {
	return int(math.Round(float64(geo.OfGrains(grains)) / plantArea))
}

package stretch

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/drift"
	"driftreach/internal/spill"
)

// TestWorkers: any number of workers gives the same stretches, with and without an earlier batch. The
// network is large enough for several tasks.
func TestWorkers(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 7))
	w := &simulated{net: tree(t, rng, 200), rng: rng}
	for i := range int32(30) {
		w.known = append(w.known, drift.Source{Stand: i, Place: w.everyWhere(), Amount: drift.Amount(1 + rng.Float64())})
	}
	d := drift.Follow(w.net, drift.Released{Stands: len(w.known), Sources: w.known}, drift.DefaultSettings(), 1)
	k := Known{Quarter: q1, Net: w.net, Half: half(w.net), Drift: &d, Now: in(func(p orb.Point) bool { return p[0] > 10 })}
	if runs := chainRuns(first(cutAll(w.net, DefaultSettings()))); len(runs) < 4 {
		t.Fatalf("%d tasks", len(runs))
	}
	for _, quarter := range []int{1, 2} {
		one := Find(k, DefaultSettings())
		for _, workers := range []int{1, 2, 5} {
			k.Workers = workers
			if got := Find(k, DefaultSettings()); !reflect.DeepEqual(got, one) {
				t.Errorf("quarter %d, %d workers: other stretches", quarter, workers)
			}
		}
		k.Shelf = spill.NewShelf(nil, "")
		kept := Find(k, DefaultSettings())
		for i := range kept {
			line, start, cells := kept[i].Line(), kept[i].Start(), kept[i].AppendCells(nil)
			if !slices.Equal(line, one[i].Path) || start != one[i].Path[0] || !slices.Equal(cells, one[i].Cells.Append(nil)) || kept[i].Drawn != nil {
				t.Fatalf("quarter %d, %s on a shelf: another line, or other cells", quarter, kept[i].ID)
			}
			if kept[i].Drawn, kept[i].kept = one[i].Drawn, one[i].kept; !reflect.DeepEqual(kept[i], one[i]) {
				t.Fatalf("quarter %d, on a shelf: %+v, in memory %+v", quarter, kept[i], one[i])
			}
		}
		k.Shelf = nil
		k.Memory = &Memory{Quarter: q1}
		for i := range one {
			k.Memory.Stretches = append(k.Memory.Stretches, Remembered{one[i].Path, one[i].Cells})
		}
		k.Quarter, k.Workers, k.Now = q2, 0, in(func(p orb.Point) bool { return p[1] > -36 })
	}
}

func first(cuts []cut, _ []Stretch) []cut { return cuts }

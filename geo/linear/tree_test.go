package linear

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// TestTreeFindsExactly: a search finds the runs whose boxes meet a box, and no others, however near an
// edge: those that a look at every box finds, beside the antimeridian too. Lines are packed in turn.
func TestTreeFindsExactly(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, west := range []float64{-121.123456, 179.99} {
		var lines []orb.LineString
		for range 150 {
			x, y := west+0.02*rng.Float64(), 37+0.02*rng.Float64()
			var line orb.LineString
			for range 1 + rng.IntN(40) {
				x, y = math.Round((x+2e-4*(rng.Float64()-0.4))*1e7)/1e7, math.Round((y+2e-4*(rng.Float64()-0.5))*1e7)/1e7
				line = append(line, orb.Point{x, y})
				if x > 180 {
					line[len(line)-1][0] -= 360
				}
			}
			lines = append(lines, line)
		}
		var all []boxed
		for i, line := range lines {
			all = appendBoxes(all, int32(i), line)
		}
		packed, rows := Packer{}, []int32(nil)
		for _, line := range lines {
			rows = append(rows, packed.Add(line))
		}
		again, err := packed.Lines(rows)
		if err != nil {
			t.Fatal(err)
		}
		for _, lines := range []Lines{LinesOf(lines), again} {
			tree := newTree(lines)
			found := 0
			for range 2000 {
				at := all[rng.IntN(len(all))]
				low, high := at.min, at.max
				// beside the box, at its edge or a few roundings off, on one side or all
				off := []float64{0, 1e-15, -1e-15, 1e-9, -1e-9, 3e-6, -3e-6}[rng.IntN(7)]
				switch axis := rng.IntN(3); axis {
				case 2:
					low, high = [2]float64{low[0] - off, low[1] - off}, [2]float64{high[0] + off, high[1] + off}
				default:
					low[axis] = math.Nextafter(at.max[axis], 1000) + off
					high[axis] = low[axis] + 1e-5
				}
				var got, want []Run
				tree.search(lines, low, high, func(r Run) { got = append(got, r) })
				for _, b := range all {
					if b.min[0] <= high[0] && b.max[0] >= low[0] && b.min[1] <= high[1] && b.max[1] >= low[1] {
						want = append(want, b.run)
					}
				}
				slices.SortFunc(got, compareRuns)
				slices.SortFunc(want, compareRuns)
				if !slices.Equal(got, want) {
					t.Fatalf("from %v to %v: %v, want %v", low, high, got, want)
				}
				found += len(want)
			}
			if found < 1000 {
				t.Errorf("only %d runs were found", found)
			}
		}
	}
}

// TestTreeRounds: by hand: a tenth is no number of four bytes; the box goes outwards to the next, and a
// half stays.
func TestTreeRounds(t *testing.T) {
	b := boxed{min: [2]float64{0.1, 0.5}, max: [2]float64{-0.1, 0.5}}
	r := b.rounded()
	if float64(r.min[0]) > 0.1 || float64(after32(r.min[0])) <= 0.1 || float64(r.max[0]) < -0.1 || float64(before32(r.max[0])) >= -0.1 || r.min[1] != 0.5 || r.max[1] != 0.5 {
		t.Errorf("%+v", r)
	}
}

// TestTreeAlong: by hand: on a curve over the ground around them (Morton 1966), the south-west comes
// before the south-east, and the north-west before the north-east; those at one place stay in order.
func TestTreeAlong(t *testing.T) {
	at := func(x, y float32, line int32) leaf {
		return leaf{roundedBox: roundedBox{[2]float32{x, y}, [2]float32{x, y}}, line: line}
	}
	around := roundedBox{[2]float32{10, 50}, [2]float32{20, 60}}
	var got []int32
	for _, l := range along([]leaf{at(20, 60, 0), at(10, 60, 1), at(20, 50, 2), at(10, 50, 3), at(20, 50, 4)}, around) {
		got = append(got, l.line)
	}
	if !slices.Equal(got, []int32{3, 2, 4, 1, 0}) {
		t.Error(got)
	}
	if one := along([]leaf{at(10, 50, 7)}, roundedBox{[2]float32{10, 50}, [2]float32{10, 50}}); len(one) != 1 || one[0].line != 7 {
		t.Error(one)
	}
}

package stream

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
)

// elsewhere is a text that is not in memory.
type elsewhere string

func (e elsewhere) Part(_ []byte, from, n int) []byte { return []byte(e[from : from+n]) }

// TestPack: a packed network has the same paths: of a line as it is, of one that flows against its
// digitising, of one cut at a junction and at the same time reversed, of a coast outside the network. The
// lines that Connect was given keep theirs. What is asked of each line is as it was, to the last bit.
func TestPack(t *testing.T) {
	a := line("a", 1, orb.Point{0, -60}, orb.Point{0.005, -60.0007}, orb.Point{0.01, -60})
	b := line("b", 2, orb.Point{0.03, -60}, orb.Point{0.02, -60.001}, orb.Point{0.01, -60})
	c := line("c", 3, orb.Point{0.05, -60}, orb.Point{0.04, -60.0001}, orb.Point{0.03, -60})
	side := line("s", 4, orb.Point{0.0214, -60.1}, orb.Point{0.0213, -60.00087})
	sea := line("z", 5, orb.Point{1, 1}, orb.Point{2, 1})
	a.Sequence, b.Sequence, c.Sequence, side.Sequence, sea.Coast = 30, 20, 10, 25, true
	a.Name, c.Name, c.BankfullWidth, c.Barrier, c.BarrierPass, c.Permanence = "Alder", "Alder", 7.3, Weir, 0.25, Ephemeral
	b.MeanVelocity, b.Drainage, b.Discharge, b.MeanDischarge, b.Slope, b.Permanence = 0.7, 81, 2.5, 3.25, 0.0009, Perennial
	side.Slope, side.BarrierPass, sea.Slope, sea.BarrierPass = math.Copysign(0, -1), geo.Share(math.NaN()), 0, geo.Share(math.NaN())
	given := []Centerline{a, b, c, side, sea}
	plain, _ := Connect(given, nil, nil, flow.Options{Snap: 50})
	for name, put := range map[string]func([]byte) (linear.Far, error){
		"memory": nil, "elsewhere": func(text []byte) (linear.Far, error) { return elsewhere(text), nil },
	} {
		n, _ := Connect(given, nil, nil, flow.Options{Snap: 50})
		if err := n.Pack(put); err != nil {
			t.Fatal(err)
		}
		if n.Paths.Len() != 5 || !slices.ContainsFunc(n.Net.Edges, func(e flow.Edge) bool { return e.Flipped && len(n.Net.EdgesOf(e.Line)) == 1 }) {
			t.Fatalf("%s: %d edges, %+v", name, n.Paths.Len(), n.Net.Edges)
		}
		for e, path := range n.Paths.All() {
			if want := plain.Paths.At(e); fmt.Sprint(path) != fmt.Sprint(want) {
				t.Errorf("%s: edge %d is %v, want %v", name, e, path, want)
			}
		}
		for i := range given {
			if got := n.Drawn.At(i); !slices.Equal(got, given[i].Path) || !slices.Equal(plain.Drawn.At(i), got) || n.Lines != nil || len(given[i].Path) < 2 {
				t.Errorf("%s: line %d is %v, want %v", name, i, got, given[i].Path)
			}
			l, got, want := &given[i], n.Line(int32(i)), Centerline{}
			want.ID, want.Name, want.BankfullWidth, want.MeanVelocity, want.Drainage, want.Discharge = l.ID, l.Name, l.BankfullWidth, l.MeanVelocity, l.Drainage, l.Discharge
			want.MeanDischarge, want.Slope, want.Barrier, want.BarrierPass, want.Permanence = l.MeanDischarge, l.Slope, l.Barrier, l.BarrierPass, l.Permanence
			// printed: NaN is NaN, and -0 is not 0
			if fmt.Sprintf("%+v", got) != fmt.Sprintf("%+v", want) || n.LineName(int32(i)) != l.Name || plain.LineName(int32(i)) != l.Name || plain.Line(int32(i)).ID != l.ID {
				t.Errorf("%s: line %d is %+v, want %+v", name, i, got, want)
			}
		}
		if n.CountLines() != len(given) || plain.CountLines() != len(given) {
			t.Errorf("%s: %d lines, unpacked %d", name, n.CountLines(), plain.CountLines())
		}
	}
}

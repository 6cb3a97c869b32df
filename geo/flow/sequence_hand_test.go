package flow

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// TestWhatDirectsALine: node names come before the sequence, the sequence before the digitising,
// and the neighbours decide where the digitising would send water into a line's end; by hand: a
// chain of three, the middle one digitised upstream.
func TestWhatDirectsALine(t *testing.T) {
	chain := func() []Line {
		return []Line{plain("a", orb.Point{0, 0}, orb.Point{0, -0.01}), plain("b", orb.Point{0, -0.02}, orb.Point{0, -0.01}), plain("c", orb.Point{0, -0.02}, orb.Point{0, -0.03})}
	}
	for _, c := range []struct {
		name    string
		change  func(l []Line)
		flipped bool
		told    bool
	}{
		{"the neighbours", func([]Line) {}, true, true},
		{"the sequence of all", func(l []Line) {
			for i := range l {
				l[i].Sequence = float64(30 - 10*i)
			}
		}, true, true},
		{"the names", func(l []Line) {
			for i := range l {
				l[i].From, l[i].To = fmt.Sprint("n", i), fmt.Sprint("n", i+1)
			}
		}, true, true}, // its path runs from its second node to its first: the names decide, and that is reported
		{"drawn downstream", func(l []Line) { slices.Reverse(l[1].Path) }, false, false},
	} {
		lines := chain()
		c.change(lines)
		n, troubles := Build(lines, DefaultOptions())
		b := n.Edges[edgeNamed(n, lines, "b")]
		if told := slices.Contains(kinds(troubles), ReversedDirection); told != c.told {
			t.Errorf("%s: %v", c.name, kinds(troubles))
		}
		if b.Flipped != c.flipped {
			t.Errorf("%s: flipped %v", c.name, b.Flipped)
		}
		// however it is directed, the water runs from a through b to c
		if down := n.Down(edgeNamed(n, lines, "a")); down != edgeNamed(n, lines, "b") || n.Down(down) != edgeNamed(n, lines, "c") {
			t.Errorf("%s: the way from a is %d", c.name, down)
		}
		near(t, c.name+": above c", n.Edges[edgeNamed(n, lines, "c")].UpstreamKm, float64(n.LineLength(0)+n.LineLength(1)+n.LineLength(2))/1000, 1e-9)
	}
}

// TestOneChainHoweverLong: a thousand lines in a row: kilometres, order 1; all of a unit arrives
// where nothing is lost, and e^-1 of it where loss rate times length is a thousandth on each line.
func TestOneChainHoweverLong(t *testing.T) {
	var lines []Line
	for i := range 1000 {
		lines = append(lines, byNode(fmt.Sprintf("l%04d", i), fmt.Sprint(i), fmt.Sprint(i+1), 100))
	}
	n, _ := Build(lines, DefaultOptions())
	for i := range n.Edges {
		e := &n.Edges[i]
		if int(e.Line) != i || e.Order != 1 {
			t.Fatalf("edge %d is line %d of order %d", i, e.Line, e.Order)
		}
		near(t, "above", e.UpstreamKm, 0.1*float64(i+1), 1e-9)
		near(t, "to the mouth", e.OutletKm, 0.1*float64(999-i), 1e-9)
	}
	whole := n.Sweep(everywhere(n, 0), []Source{{Place{0, 0}, 5}})
	near(t, "without loss", whole.Left, 5, 0)
	part := n.Sweep(everywhere(n, 1e-5), []Source{{Place{0, 0}, 5}})
	near(t, "with loss", part.Left, 5/math.E, 1e-12)
	near(t, "half-way", part.Outflow[499], 5/math.Sqrt(math.E), 1e-12)
	pieces := n.Reach(everywhere(n, 1e-5), []Place{{0, 30}}, Bound{Floor: 0.5}, n.NewWalker())
	last := pieces[len(pieces)-1]
	near(t, "reach", float64(last.Edge)*100+float64(last.To)-30, math.Ln2*1e5, 1e-6)
}

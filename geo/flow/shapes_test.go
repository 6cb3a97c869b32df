package flow

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// kinds returns the kinds of troubles in order.
func kinds(troubles []Trouble) []string {
	var list []string
	for _, t := range troubles {
		list = append(list, t.Kind)
	}
	return list
}

// byNode returns a line with node names and a length, and no path.
func byNode(name, from, to string, length geo.Meters) Line {
	l := plain(name)
	l.From, l.To, l.Length = from, to, length
	return l
}

// edgeNamed returns the first edge of the line with a name.
func edgeNamed(n *Network, lines []Line, name string) int32 {
	return n.EdgesOf(int32(slices.IndexFunc(lines, func(l Line) bool { return l.Name == name })))[0]
}

// TestTinyTree accumulates 1, 2, 3, 4, 1, 2, 3, 4 down the tree of the USGS
// hydroloom tests: 1, 3, 6, 20, 1, 3, 6, 10 (accumulate_downstream, total).
func TestTinyTree(t *testing.T) {
	down := map[string]string{"1": "2", "2": "3", "3": "4", "4": "0", "6": "7", "7": "8", "8": "9", "9": "4"}
	ids := []string{"1", "2", "3", "4", "6", "7", "8", "9"}
	want := []float64{1, 3, 6, 20, 1, 3, 6, 10}
	var lines []Line
	for i, id := range ids {
		l := byNode(id, id, down[id], 100)
		l.Area = geo.SquareKilometers(float64(i%4 + 1))
		lines = append(lines, l)
	}
	n, _ := Build(lines, DefaultOptions())
	var sources []Source
	for i := range lines {
		sources = append(sources, Source{Place{Edge: edgeNamed(n, lines, ids[i])}, float64(lines[i].Area)})
	}
	s := n.Sweep(everywhere(n, 0), sources)
	for i, id := range ids {
		e := edgeNamed(n, lines, id)
		near(t, "swept "+id, s.Outflow[e], want[i], 0)
		near(t, "total "+id, n.Edges[e].Drainage, want[i], 0)
	}
}

// TestDivergenceConserves: shares of 0.75 and 0.25 bring the whole release to the outlet (by hand).
func TestDivergenceConserves(t *testing.T) {
	lines := []Line{byNode("a", "1", "2", 10), byNode("b", "2", "3", 10), byNode("c", "2", "3", 10), byNode("d", "3", "4", 10)}
	lines[1].Share, lines[2].Share = 0.75, 0.25
	n, _ := Build(lines, DefaultOptions())
	s := n.Sweep(everywhere(n, 0), []Source{{Place{edgeNamed(n, lines, "a"), 0}, 8}})
	near(t, "b", s.Inflow[edgeNamed(n, lines, "b")], 6, 0)
	near(t, "c", s.Inflow[edgeNamed(n, lines, "c")], 2, 0)
	near(t, "left", s.Left, 8, 0)
	if n.Edges[edgeNamed(n, lines, "b")].Minor || !n.Edges[edgeNamed(n, lines, "c")].Minor {
		t.Error("the larger share is not the main path")
	}
}

// TestDamChain: through three edges of 1000 m with half-distance 1000 m and pass shares 0.3, 0.7,
// 1, of one unit 0.3 x 0.7 / 8 leaves and 0.5 x 0.7 + 0.075 x 0.3 is held (by hand).
func TestDamChain(t *testing.T) {
	lines := []Line{byNode("a", "1", "2", 1000), byNode("b", "2", "3", 1000), byNode("c", "3", "4", 1000)}
	n, _ := Build(lines, DefaultOptions())
	tr := everywhere(n, math.Ln2/1000)
	tr.Pass[0], tr.Pass[1] = 0.3, 0.7
	s := n.Sweep(tr, []Source{{Place{0, 0}, 1}})
	near(t, "left", s.Left, 0.3*0.7/8, 1e-12)
	near(t, "held", s.Held, 0.35+0.075*0.3, 1e-12)
	// down to a fifth: after the dam the share is 0.15, so the reach ends there
	pieces := n.Reach(tr, []Place{{0, 250}}, Bound{Floor: 0.2}, n.NewWalker())
	if len(pieces) != 1 || pieces[0].To != 1000 {
		t.Errorf("reach %+v, want 250 to 1000 m on the first edge", pieces)
	}
}

// TestLeafDrift: at a mean distance of 192 m 99 % have settled after 884.2 m (Am.
// Midl. Nat. 100(1):217-222, 1978, printed as 886 m).
func TestLeafDrift(t *testing.T) {
	lines := []Line{byNode("a", "1", "2", 5000)}
	n, _ := Build(lines, DefaultOptions())
	for mean, want := range map[float64]float64{192: 886, 226: 1040} {
		pieces := n.Reach(everywhere(n, 1/mean), []Place{{0, 0}}, Bound{Floor: 0.01}, n.NewWalker())
		near(t, "distance", float64(pieces[0].To), want, 0.005*want)
	}
}

// TestBraidReach: of a braid's arms of 100 m and 300 m, the short one decides how far the reach
// goes below; both arms are reached; by hand with half-distance 200 m down to a quarter, 400 m of
// path: 50 + 100 + 300 + 250.
func TestBraidReach(t *testing.T) {
	lines := []Line{byNode("a", "1", "2", 50), byNode("b", "2", "3", 100), byNode("c", "2", "3", 300), byNode("d", "3", "4", 900)}
	n, _ := Build(lines, DefaultOptions())
	var sum geo.Meters
	for _, p := range n.Reach(everywhere(n, math.Ln2/200), []Place{{0, 0}, {0, 20}}, Bound{Floor: 0.25}, n.NewWalker()) {
		sum += p.To - p.From
	}
	// the second place, 20 m lower, reaches 20 m further
	near(t, "reach", float64(sum), 50+100+300+270, 1e-9)
}

// TestTroubles draws one fault each and checks its kind and repair. Positions are at 60 S across
// the antimeridian, which must not matter.
func TestTroubles(t *testing.T) {
	at := func(x, y float64) orb.Point {
		p := orb.Point{179.999 + x*0.001, -60 - y*0.001}
		if p[0] >= 180 {
			p[0] -= 360
		}
		return p
	}
	stem := plain("stem", at(0, 0), at(1, 1), at(2, 2))
	low := plain("stem2", at(2, 2), at(2, 4))
	cases := []struct {
		name  string
		lines []Line
		kind  string
		edges int
		parts int
	}{
		{"gap of half a metre", []Line{stem, plain("x", at(2, 2.0045), at(3, 5))}, GapClosed, 2, 1},
		{"end on the middle", []Line{stem, plain("x", at(3, 0), at(1.5, 1.5))}, TJunction, 3, 1},
		{"end on a middle vertex", []Line{stem, plain("x", at(3, 0), at(1, 1))}, TJunction, 3, 1},
		{"end five metres short", []Line{stem, plain("x", at(3, 0), at(1, 0.955))}, Dangle, 2, 2},
		{"single vertex", []Line{stem, low, plain("x", at(0, 0))}, ZeroLength, 2, 1},
		{"no way to go", []Line{stem, low, plain("x", at(0, 0), at(0, 0))}, ZeroLength, 2, 1},
		{"not a number", []Line{stem, low, plain("x", at(0, 0), orb.Point{math.NaN(), 0})}, Unusable, 2, 1},
		{"crosses itself", []Line{plain("x", at(0, 0), at(2, 2), at(2, 0), at(0, 2))}, SelfCrossing, 1, 1},
		{"against the stream", []Line{plain("a", at(0, 0), at(1, 1)), plain("b", at(2, 2), at(1, 1)), plain("c", at(2, 2), at(3, 3))}, ReversedDirection, 3, 1},
		{"ring", []Line{plain("a", at(0, 0), at(1, 1)), plain("b", at(1, 1), at(2, 2)), plain("c", at(2, 2), at(1, 3), at(1, 1)), plain("d", at(2, 2), at(4, 4))}, CycleCut, 4, 1},
		{"closed line", []Line{stem, low, plain("x", at(5, 5), at(6, 5), at(6, 6), at(5, 5))}, CycleCut, 3, 2},
		{"two low ends", []Line{stem, low, plain("x", at(2, 2), at(5, 2))}, LooseBranch, 3, 1},
		{"small and alone", []Line{stem, low, plain("x", at(9, 9), at(9.001, 9.001))}, Island, 3, 2},
		{"names for some", []Line{{Name: "a", From: "1", To: "2", Path: stem.Path}, low}, NamesIncomplete, 2, 1},
		{"same name", []Line{stem, low, plain("stem", at(3, 0), at(2, 2))}, RepeatedName, 3, 1},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			n, troubles := Build(c.lines, DefaultOptions())
			if !slices.Contains(kinds(troubles), c.kind) {
				t.Errorf("troubles %v, want %s", kinds(troubles), c.kind)
			}
			if len(n.Edges) != c.edges || n.Components != c.parts {
				t.Errorf("%d edges in %d parts, want %d in %d", len(n.Edges), n.Components, c.edges, c.parts)
			}
		})
	}
	if n, troubles := Build([]Line{stem, low}, DefaultOptions()); len(troubles) != 0 || n.Components != 1 {
		t.Errorf("a sound network has troubles %v", troubles)
	}
}

// TestReversedIsTurned: the middle line of three, digitised upstream, flows down
// after the repair and all three reach one outlet.
func TestReversedIsTurned(t *testing.T) {
	lines := []Line{
		plain("a", orb.Point{0, 0}, orb.Point{0, -1e-2}),
		plain("b", orb.Point{0, -2e-2}, orb.Point{0, -1e-2}),
		plain("c", orb.Point{0, -2e-2}, orb.Point{0, -3e-2}),
	}
	n, _ := Build(lines, DefaultOptions())
	b := n.Edges[edgeNamed(n, lines, "b")]
	if !b.Flipped || len(n.Downstream(edgeNamed(n, lines, "a"))) != 1 {
		t.Fatalf("b was not turned: %+v", b)
	}
	// 100 m from its digitised start is 100 m above its downstream end
	p := n.At(1, 100)
	near(t, "offset", float64(p.Offset), float64(b.Length)-100, 1e-9)
	near(t, "and back", float64(b.Measure(p.Offset)), 100, 1e-9)
}

// TestSequenceDirects: a line digitised upstream is reversed by its sequence.
func TestSequenceDirects(t *testing.T) {
	lines := []Line{
		plain("a", orb.Point{0, 0}, orb.Point{0, -1e-2}),
		plain("b", orb.Point{0, -2e-2}, orb.Point{0, -1e-2}),
		plain("c", orb.Point{0, -2e-2}, orb.Point{0, -3e-2}),
	}
	for i := range lines {
		lines[i].Sequence = float64(30 - 10*i)
	}
	n, troubles := Build(lines, DefaultOptions())
	if !slices.Equal(kinds(troubles), []string{ReversedDirection}) || !n.Edges[edgeNamed(n, lines, "b")].Flipped {
		t.Errorf("troubles %v", troubles)
	}
}

// TestSplittingChangesNothing: the same stream as one line and as two has the
// same totals, river kilometres and mass balance.
func TestSplittingChangesNothing(t *testing.T) {
	whole := []Line{
		plain("a", orb.Point{0, 60}, orb.Point{0, 59.99}, orb.Point{0.01, 59.98}),
		plain("t", orb.Point{0.03, 60}, orb.Point{0.01, 59.98}),
		plain("z", orb.Point{0.01, 59.98}, orb.Point{0, 59.9}),
	}
	split := append([]Line{plain("a1", whole[0].Path[:2]...), plain("a2", whole[0].Path[1:]...)}, whole[1:]...)
	n, _ := Build(whole, DefaultOptions())
	m, _ := Build(split, DefaultOptions())
	z, y := n.Edges[edgeNamed(n, whole, "z")], m.Edges[edgeNamed(m, split, "z")]
	near(t, "upstream", y.UpstreamKm, float64(z.UpstreamKm), 1e-9)
	if y.Order != z.Order || z.Order != 2 {
		t.Errorf("order %d and %d, want 2", z.Order, y.Order)
	}
	one := n.Sweep(everywhere(n, 1e-4), []Source{{n.At(0, 0), 1}})
	two := m.Sweep(everywhere(m, 1e-4), []Source{{m.At(0, 0), 1}})
	near(t, "left", two.Left, one.Left, 1e-12)
}

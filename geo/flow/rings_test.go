package flow

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// among returns the names of the lines of edges, sorted.
func among(n *Network, lines []Line, edges []int32) (names []string) {
	for _, e := range edges {
		names = append(names, lines[n.Edges[e].Line].Name)
	}
	slices.Sort(names)
	return names
}

// cutLines returns the names of the lines at which rings were cut, sorted.
func cutLines(lines []Line, troubles []Trouble) (names []string) {
	for _, x := range troubles {
		if x.Kind == CycleCut {
			for _, l := range x.Lines {
				names = append(names, lines[l].Name)
			}
		}
	}
	slices.Sort(names)
	return names
}

// TestWhichLineIsCut: where water flows in a ring, the line that leads back to a place already
// passed is cut at its upper end, minor paths before main ones; by hand. Every edge is kept, and no
// path leads round.
func TestWhichLineIsCut(t *testing.T) {
	for _, c := range []struct {
		name  string
		lines []Line
		cut   []string
	}{
		{"no ring", []Line{byNode("a", "1", "2", 10), byNode("b", "2", "3", 10), byNode("c", "2", "3", 10)}, nil},
		{"a ring that water enters", []Line{byNode("a", "0", "1", 10), byNode("b", "1", "2", 10), byNode("c", "2", "3", 10), byNode("d", "3", "1", 10), byNode("e", "3", "4", 10)}, []string{"d"}},
		{"a ring by itself", []Line{byNode("b", "1", "2", 10), byNode("c", "2", "3", 10), byNode("d", "3", "1", 10)}, []string{"d"}},
		{"two lines back and forth", []Line{byNode("a", "0", "1", 10), byNode("b", "1", "2", 10), byNode("c", "2", "1", 10), byNode("d", "2", "3", 10)}, []string{"c"}},
		{"two rings one below the other", []Line{
			byNode("a", "0", "1", 10), byNode("b", "1", "2", 10), byNode("c", "2", "1", 10), byNode("d", "2", "3", 10), byNode("e", "3", "4", 10), byNode("f", "4", "3", 10), byNode("g", "4", "5", 10),
		}, []string{"c", "f"}},
		{"the minor way back", []Line{
			byNode("a", "0", "1", 10), byNode("b", "1", "2", 10), marked(byNode("c", "2", "1", 10), MinorPath), byNode("d", "2", "3", 10),
		}, []string{"c"}},
	} {
		n, troubles := Build(c.lines, DefaultOptions())
		if got := cutLines(c.lines, troubles); !slices.Equal(got, c.cut) {
			t.Errorf("%s: cut %v, want %v", c.name, got, c.cut)
		}
		if len(n.Edges) != len(c.lines) {
			t.Errorf("%s: %d edges of %d lines", c.name, len(n.Edges), len(c.lines))
		}
		for i := range n.Edges {
			for _, d := range n.Downstream(int32(i)) {
				if d <= int32(i) {
					t.Errorf("%s: edge %d leads to %d", c.name, i, d)
				}
			}
		}
	}
}

// TestPeel: nodes on and below rings remain; by hand: 0 to 1 to 2, 2 to 3 and back, 3 to 4.
func TestPeel(t *testing.T) {
	arcs := []arc{{from: 0, to: 1}, {from: 1, to: 2}, {from: 2, to: 3}, {from: 3, to: 2}, {from: 3, to: 4}}
	b := &builder{arcs: arcs, nodes: make([]Node, 6)}
	in := []int32{0, 1, 2, 1, 1, 0}
	entered := make([]bool, 6)
	if left := peel(arcs, in, b.outOf(), entered); left != 3 {
		t.Errorf("%d left, want 2, 3 and 4", left)
	}
	if !slices.Equal(entered, []bool{false, true, true, false, false, false}) {
		t.Errorf("entered %v", entered)
	}
	whole := []arc{{from: 0, to: 1}, {from: 0, to: 1}, {from: 1, to: 2}}
	b = &builder{arcs: whole, nodes: make([]Node, 3)}
	if left := peel(whole, []int32{0, 2, 1}, b.outOf(), make([]bool, 3)); left != 0 {
		t.Errorf("%d left of none", left)
	}
}

// TestTotalsOfBraids: each line counts once, however the water divides and joins; by hand: lines of
// 1, 2, 4, 8 ... km, so that the sum shows which are included.
func TestTotalsOfBraids(t *testing.T) {
	power := func(k int) geo.Meters { return geo.Meters(1000 * int(1<<k)) }
	for _, c := range []struct {
		name  string
		lines []Line
		km    map[string]float64
	}{
		{"an island", []Line{byNode("a", "1", "2", power(0)), byNode("b", "2", "3", power(1)), byNode("c", "2", "3", power(2)), byNode("d", "3", "4", power(3))},
			map[string]float64{"a": 1, "b": 3, "c": 5, "d": 15}},
		{"two islands in a row", []Line{
			byNode("a", "1", "2", power(0)), byNode("b", "1", "2", power(1)), byNode("c", "2", "3", power(2)), byNode("d", "2", "3", power(3)), byNode("e", "3", "4", power(4)),
		}, map[string]float64{"a": 1, "b": 2, "c": 7, "d": 11, "e": 31}},
		{"an island in an island", []Line{
			byNode("a", "1", "2", power(0)), byNode("b", "2", "5", power(1)), byNode("c", "2", "3", power(2)), byNode("d", "3", "4", power(3)), byNode("e", "3", "4", power(4)), byNode("f", "4", "5", power(5)), byNode("g", "5", "6", power(6)),
		}, map[string]float64{"a": 1, "b": 3, "c": 5, "d": 13, "e": 21, "f": 61, "g": 127}},
		{"a tributary on each arm", []Line{
			byNode("a", "1", "2", power(0)), byNode("b", "2", "3", power(1)), byNode("c", "2", "4", power(2)), byNode("d", "3", "5", power(3)), byNode("e", "4", "5", power(4)), byNode("s", "x", "3", power(5)), byNode("t", "y", "4", power(6)), byNode("z", "5", "6", power(7)),
		}, map[string]float64{"d": 1 + 2 + 8 + 32, "e": 1 + 4 + 16 + 64, "z": 255}},
		{"arms that cross over", []Line{
			byNode("a", "1", "2", power(0)), byNode("b", "1", "3", power(1)), byNode("c", "2", "3", power(2)), byNode("d", "2", "4", power(3)), byNode("e", "3", "4", power(4)), byNode("f", "4", "5", power(5)),
		}, map[string]float64{"c": 5, "d": 9, "e": 1 + 2 + 4 + 16, "f": 63}},
		{"an arm that leaves for good", []Line{
			byNode("a", "1", "2", power(0)), byNode("b", "2", "3", power(1)), byNode("c", "2", "9", power(2)), byNode("d", "2", "3", power(3)), byNode("e", "3", "4", power(4)),
		}, map[string]float64{"c": 5, "e": 1 + 2 + 8 + 16}},
	} {
		for i := range c.lines {
			c.lines[i].Area = geo.SquareKilometers(float64(c.lines[i].Length) / 500) // twice its kilometres
		}
		random := rand.New(rand.NewPCG(9, 9))
		for range 3 {
			random.Shuffle(len(c.lines), func(i, j int) { c.lines[i], c.lines[j] = c.lines[j], c.lines[i] })
			n, _ := Build(c.lines, DefaultOptions())
			for name, want := range c.km {
				e := n.Edges[edgeNamed(n, c.lines, name)]
				near(t, c.name+": "+name, e.UpstreamKm, want, 1e-9)
				near(t, c.name+": catchment of "+name, e.Drainage, 2*want, 1e-9)
			}
		}
	}
}

// TestUpAndDown: edges that enter and leave nodes, the next edge downstream, and the edges of each
// line; by hand.
func TestUpAndDown(t *testing.T) {
	lines := []Line{byNode("a", "1", "3", 10), byNode("b", "2", "3", 10), marked(byNode("c", "3", "4", 10), MainPath), byNode("d", "3", "5", 10), {Name: "none", Path: orb.LineString{{0, 0}}, Share: math.NaN(), Area: geo.SquareKilometers(math.NaN()), Sequence: math.NaN()}}
	n, _ := Build(lines, DefaultOptions())
	a, c := edgeNamed(n, lines, "a"), edgeNamed(n, lines, "c")
	if got := among(n, lines, n.Downstream(a)); !slices.Equal(got, []string{"c", "d"}) {
		t.Errorf("below a: %v", got)
	}
	if n.Down(a) != c || n.Down(c) != -1 || len(n.Downstream(c)) != 0 {
		t.Errorf("the way on is %d, below it %d", n.Down(a), n.Down(c))
	}
	if got := among(n, lines, n.In(n.Edges[a].To)); !slices.Equal(got, []string{"a", "b"}) {
		t.Errorf("into the node: %v", got)
	}
	if len(n.In(n.Edges[a].From)) != 0 || len(n.Out(n.Edges[c].To)) != 0 {
		t.Error("heads and mouths have more")
	}
	if p := n.At(4, 3); p.Edge != -1 || len(n.EdgesOf(4)) != 0 {
		t.Errorf("a line of one place is at %+v", p)
	}
}

// TestSnapDistance: ends up to the snap distance apart, and no farther, are one place, also in a
// row of many; by hand at the equator, where 1e-5 degrees are 1.11 m.
func TestSnapDistance(t *testing.T) {
	for _, c := range []struct {
		snap, gap float64 // metres
		joined    bool
	}{{1, 0.99, true}, {1, 1.01, false}, {5, 4.99, true}, {5, 5.01, false}, {0, 0.01, false}, {0, 0, true}} {
		lines := []Line{plain("a", orb.Point{0, 0}, orb.Point{0.01, 0}), plain("b", orb.Point{0.01 + c.gap/111319.49, 0}, orb.Point{0.02, 0})}
		o := DefaultOptions()
		o.Snap = geo.Meters(c.snap)
		n, troubles := Build(lines, o)
		if joined := n.Components == 1; joined != c.joined {
			t.Errorf("%v m apart, snap %v m: joined %v", c.gap, c.snap, joined)
		}
		if closed := slices.Contains(kinds(troubles), GapClosed); closed != (c.joined && c.gap > 0) {
			t.Errorf("%v m apart, snap %v m: told of a gap closed %v", c.gap, c.snap, closed)
		}
	}
	// each within a metre of the next: all one place
	var lines []Line
	for i := range 6 {
		lines = append(lines, plain(fmt.Sprint("l", i), orb.Point{0.01 * float64(i+1), 0.01}, orb.Point{0.9 * float64(i) / 111319.49, 0}))
	}
	if n, _ := Build(lines, DefaultOptions()); n.Components != 1 || len(n.Nodes) != 7 {
		t.Errorf("%d parts, %d nodes", n.Components, len(n.Nodes))
	}
}

// TestGapsAhead: two loose ends that point at each other are reported as a gap up to 100 m, and
// closed where the settings say so; ends beside each other, past each other or at a right angle are
// not a gap; by hand at the equator.
func TestGapsAhead(t *testing.T) {
	at := func(x, y float64) orb.Point { return orb.Point{x / 111319.49, y / 110574.3} } // metres
	for _, c := range []struct {
		name string
		b    Line
		kind string // with gaps of 50 m to be closed
	}{
		{"40 m ahead", plain("b", at(1040, 0), at(2000, 0)), GapClosed},
		{"60 m ahead", plain("b", at(1060, 0), at(2000, 0)), GapOpen},
		{"99 m ahead", plain("b", at(1099, 0), at(2000, 0)), GapOpen},
		{"101 m ahead", plain("b", at(1101, 0), at(2000, 0)), ""},
		{"a little aside", plain("b", at(1040, 15), at(2000, 40)), GapClosed},
		{"too far aside", plain("b", at(1030, 30), at(2000, 30)), ""},
		{"at a right angle", plain("b", at(1040, 0), at(1040, 900)), ""},
		{"end to end", plain("b", at(2000, 0), at(1040, 0)), GapClosed},
		{"beside", plain("b", at(960, 30), at(50, 30)), ""},
	} {
		lines := []Line{plain("a", at(0, 0), at(1000, 0)), c.b}
		o := DefaultOptions()
		o.CloseGap = 50
		n, troubles := Build(lines, o)
		told := ""
		for _, x := range troubles {
			if x.Kind == GapClosed || x.Kind == GapOpen {
				told = x.Kind
			}
		}
		if told != c.kind || (n.Components == 1) != (c.kind == GapClosed) {
			t.Errorf("%s: %q in %d parts, want %q", c.name, told, n.Components, c.kind)
		}
	}
}

// TestManyWorkers: the network is the same for any number of workers, with junctions, gaps and
// rings in it.
func TestManyWorkers(t *testing.T) {
	random := rand.New(rand.NewPCG(19, 91))
	for range 8 {
		var lines []Line
		for i := range 60 {
			x, y := random.Float64()*0.05, random.Float64()*0.05
			lines = append(lines, plain(fmt.Sprintf("l%02d", i), orb.Point{x, y}, orb.Point{x + random.Float64()*0.02 - 0.01, y - 0.01*random.Float64()}, orb.Point{x + random.Float64()*0.02 - 0.01, y - 0.02}))
		}
		var want string
		for _, workers := range []int{0, 1, 2, 7} {
			o := DefaultOptions()
			o.Workers, o.Snap = workers, 40
			n, troubles := Build(lines, o)
			got := fmt.Sprint(n.Edges, n.Nodes, n.Components, troubles)
			if want == "" {
				want = got
			}
			if got != want {
				t.Fatalf("%d workers: another network", workers)
			}
		}
	}
}

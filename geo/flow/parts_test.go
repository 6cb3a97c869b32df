package flow

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// TestTally: sums in which plain addition loses the small part; by hand. Neumaier's own
// example is 1 + 1e100 + 1 - 1e100 = 2.
func TestTally(t *testing.T) {
	for _, c := range []struct {
		add  []float64
		want float64
	}{
		{nil, 0}, {[]float64{1, 1e100, 1, -1e100}, 2}, {[]float64{1e100, 1, -1e100, 1}, 2}, {[]float64{0.5, -0.25}, 0.25},
		{[]float64{-1e20, 3, 1e20}, 3}, {[]float64{3, -1e20, 1e20}, 3},
	} {
		var sum tally
		for _, x := range c.add {
			sum.add(x)
		}
		if got := sum.sum(); got != c.want {
			t.Errorf("%v: %v, want %v", c.add, got, c.want)
		}
	}
	var sum tally
	for range 1_000_000 {
		sum.add(0.1)
	}
	if got := sum.sum(); got != 100_000 {
		t.Errorf("a million tenths: %v", got)
	}
}

// TestAlong: one edge of 1000 m with a half-distance of 100 m. An inflow of 1024 is 1 at its end; 8
// released 300 m above the end is 1 there; a release at the end is whole. Offsets outside count as
// the ends. By hand.
func TestAlong(t *testing.T) {
	rate := math.Ln2 / 100
	for _, c := range []struct {
		name    string
		inflow  float64
		sources []Source
		carried float64
		amount  float64
	}{
		{"inflow alone", 1024, nil, 1, 0},
		{"a source alone", 0, []Source{{Place{0, 700}, 8}}, 1, 8},
		{"both", 1024, []Source{{Place{0, 700}, 8}}, 2, 8},
		{"two sources", 0, []Source{{Place{0, 500}, 32}, {Place{0, 900}, 6}}, 4, 38},
		{"at the end", 1024, []Source{{Place{0, 1000}, 5}}, 6, 5},
		{"past the end", 0, []Source{{Place{0, 1300}, 5}}, 5, 5},
		{"before the beginning", 0, []Source{{Place{0, -200}, 1024}}, 1, 1024},
	} {
		var released tally
		got := along(c.inflow, rate, 1000, c.sources, &released)
		near(t, c.name+": carried", got.carried, c.carried, 1e-9)
		near(t, c.name+": released", released.sum(), c.amount, 0)
		near(t, c.name+": lost", got.lost, c.inflow+c.amount-c.carried, 1e-9)
	}
	var none tally
	if got := along(7, 0, 1e6, nil, &none); got.carried != 7 || got.lost != 0 {
		t.Errorf("without loss: %+v", got)
	}
}

// TestSortSources: sorted by edge, offset and amount, with sources at no edge left out; by hand.
func TestSortSources(t *testing.T) {
	n, _ := Build([]Line{byNode("a", "1", "2", 10), byNode("b", "2", "3", 10), byNode("c", "3", "4", 10)}, DefaultOptions())
	given := []Source{{Place{2, 5}, 1}, {Place{0, 9}, 2}, {Place{-1, 0}, 100}, {Place{2, 1}, 3}, {Place{0, 9}, 1}, {Place{2, 5}, 0.5}}
	start, sorted := n.sortSources(given)
	if !slices.Equal(start, []int32{0, 2, 2, 5}) {
		t.Errorf("starts %v", start)
	}
	want := []Source{{Place{0, 9}, 1}, {Place{0, 9}, 2}, {Place{2, 1}, 3}, {Place{2, 5}, 0.5}, {Place{2, 5}, 1}}
	if !slices.Equal(sorted, want) {
		t.Errorf("sorted %v, want %v", sorted, want)
	}
}

// TestStaysAndEnters: at a fork two edges take 0.5 and 0.3; of the second share a quarter gets in;
// 0.2 stays at the fork; by hand.
func TestStaysAndEnters(t *testing.T) {
	lines := []Line{byNode("a", "1", "2", 10), byNode("b", "2", "3", 10), byNode("c", "2", "4", 10)}
	n, _ := Build(lines, DefaultOptions())
	a, b, c := edgeNamed(n, lines, "a"), edgeNamed(n, lines, "b"), edgeNamed(n, lines, "c")
	tr := everywhere(n, 0)
	tr.Share, tr.Enter = make([]float64, 3), []float64{1, 1, 1}
	tr.Share[a], tr.Share[b], tr.Share[c] = 1, 0.5, 0.3
	tr.Enter[c] = 0.25
	fork, mouth := n.Edges[a].To, n.Edges[b].To
	near(t, "stays", tr.stays(n, fork), 0.2, 1e-12)
	near(t, "stays at a mouth", tr.stays(n, mouth), 0, 0)
	tr.Share[c] = 0.5 - 1e-12
	near(t, "rounding stays nowhere", tr.stays(n, fork), 0, 0)
	tr.Share[c] = 0.3
	s := n.Sweep(tr, []Source{{Place{a, 0}, 100}})
	near(t, "into b", s.Inflow[b], 50, 1e-12)
	near(t, "into c", s.Inflow[c], 7.5, 1e-12)
	near(t, "held before c", s.EdgeHeld[c], 22.5, 1e-12)
	near(t, "left", s.Left, 57.5, 1e-12)
	near(t, "held", s.Held, 22.5, 1e-12)
	near(t, "settled where the water parts", s.Settled, 20, 1e-12)
	near(t, "released", s.Released, 100, 0)
	whole := everywhere(n, 0)
	near(t, "without shares of its own", whole.stays(n, fork), 0, 0)
	near(t, "the network's share", whole.ShareOf(n, b), 0.5, 0)
	near(t, "all enters", whole.EnterOf(b), 1, 0)
}

// TestFateIsTheSweep: the fate of one unit released at a place, from the upstream pass, equals the
// result of the sweep itself, with dams, gates and dry branches.
func TestFateIsTheSweep(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 30 {
		lines := lattice(4)
		n, _ := Build(lines, DefaultOptions())
		tr := everywhere(n, 0)
		tr.Enter = make([]float64, len(n.Edges))
		for i := range n.Edges {
			tr.Rate[i] = []float64{0, 1e-4, 1e-3}[random.IntN(3)]
			tr.Pass[i] = []float64{0, 0.5, 1, 1}[random.IntN(4)]
			tr.Enter[i] = []float64{0.25, 1, 1, 1}[random.IntN(4)]
		}
		f := n.Fate(tr)
		for range 10 {
			e := int32(random.IntN(len(n.Edges)))
			at := Place{e, n.Edges[e].Length * geo.Meters(random.Float64())}
			want, got := n.Sweep(tr, []Source{{at, 1}}).Balance, f.From(at)
			near(t, "held", got.Held, want.Held, 1e-12)
			near(t, "left", got.Left, want.Left, 1e-12)
			near(t, "settled", got.Settled, want.Settled, 1e-12)
			near(t, "released", got.Released, 1, 0)
			up := n.Sweep(tr, []Source{{Place{e, 0}, 1}}).Balance
			near(t, "held from the upper end", f.Held[e], up.Held, 1e-12)
			near(t, "left from the upper end", f.Left[e], up.Left, 1e-12)
		}
	}
}

// TestShares: how the flow divides among branches, by their recorded values; by hand.
func TestShares(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name   string
		shares []float64 // of the branches
		widths []geo.Meters
		want   []float64
		kind   string
	}{
		{"nothing known", []float64{nan, nan}, nil, []float64{0.5, 0.5}, ""},
		{"three of nothing known", []float64{nan, nan, nan}, nil, []float64{1. / 3, 1. / 3, 1. / 3}, ""},
		{"widths", []float64{nan, nan}, []geo.Meters{3, 1}, []float64{0.75, 0.25}, ""},
		{"one width", []float64{nan, nan}, []geo.Meters{3, 0}, []float64{0.5, 0.5}, ""},
		{"a width without end", []float64{nan, nan}, []geo.Meters{3, geo.Meters(math.Inf(1))}, []float64{0.5, 0.5}, ""},
		{"shares", []float64{0.9, 0.1}, nil, []float64{0.9, 0.1}, ""},
		{"shares before widths", []float64{0.9, 0.1}, []geo.Meters{1, 3}, []float64{0.9, 0.1}, ""},
		{"rounded shares", []float64{0.333, 0.333, 0.3335}, nil, []float64{0.333 / 0.9995, 0.333 / 0.9995, 0.3335 / 0.9995}, ""},
		{"too much", []float64{2, 3}, nil, []float64{0.4, 0.6}, SharesNormalised},
		{"too little", []float64{0.2, 0.2}, nil, []float64{0.5, 0.5}, SharesNormalised},
		{"none at all", []float64{0, 0}, nil, []float64{0.5, 0.5}, SharesNormalised},
		{"one not known", []float64{0.7, nan}, nil, []float64{0.7, 0.3}, SharesIncomplete},
		{"two not known", []float64{0.7, nan, nan}, nil, []float64{0.7, 0.15, 0.15}, SharesIncomplete},
		{"nothing is left for one", []float64{1.25, nan}, nil, []float64{1, 0}, SharesIncomplete},
		{"below nothing is not known", []float64{0.7, -1}, nil, []float64{0.7, 0.3}, SharesIncomplete},
		{"without end is not known", []float64{0.7, math.Inf(1)}, nil, []float64{0.7, 0.3}, SharesIncomplete},
	} {
		lines := []Line{byNode("up", "0", "1", 10)}
		for i, s := range c.shares {
			l := byNode(fmt.Sprint("b", i), "1", fmt.Sprint("end", i), 10)
			if l.Share = s; c.widths != nil {
				l.Width = c.widths[i]
			}
			lines = append(lines, l)
		}
		n, troubles := Build(lines, DefaultOptions())
		for i, want := range c.want {
			near(t, c.name, n.Edges[edgeNamed(n, lines, fmt.Sprint("b", i))].Share, want, 1e-12)
		}
		near(t, c.name+": the line above", n.Edges[edgeNamed(n, lines, "up")].Share, 1, 0)
		var told string
		for _, x := range troubles {
			if x.Kind == SharesNormalised || x.Kind == SharesIncomplete {
				told = x.Kind
			}
		}
		if told != c.kind {
			t.Errorf("%s: told of %q, want %q", c.name, told, c.kind)
		}
	}
}

// TestMainPath: which branch is the main path, by the mark, the share, the order and the name, each
// deciding where the earlier ones are equal; by hand.
func TestMainPath(t *testing.T) {
	type branch struct {
		mark  uint8
		share float64
		order int32
	}
	for _, c := range []struct {
		name  string
		b     [2]branch
		main  string
		minor []string
	}{
		{"the smaller name", [2]branch{{0, 0.5, 2}, {0, 0.5, 2}}, "b0", []string{"b1"}},
		{"the higher order", [2]branch{{0, 0.5, 2}, {0, 0.5, 3}}, "b1", []string{"b0"}},
		{"the larger share before the order", [2]branch{{0, 0.4, 9}, {0, 0.6, 1}}, "b1", []string{"b0"}},
		{"the mark before the share", [2]branch{{MainPath, 0.1, 1}, {0, 0.9, 9}}, "b0", []string{"b1"}},
		{"no mark before the mark of a minor path", [2]branch{{MinorPath, 0.9, 9}, {0, 0.1, 1}}, "b1", []string{"b0"}},
		{"two minor paths: neither is main", [2]branch{{MinorPath, 0.4, 1}, {MinorPath, 0.6, 1}}, "b1", []string{"b0", "b1"}},
		{"two main paths: the larger share", [2]branch{{MainPath, 0.4, 1}, {MainPath, 0.6, 1}}, "b1", []string{"b0"}},
		{"a mark that is none", [2]branch{{7, 0.4, 1}, {0, 0.6, 1}}, "b1", []string{"b0"}},
	} {
		lines := []Line{byNode("up", "0", "1", 10)}
		for i, b := range c.b {
			l := byNode(fmt.Sprint("b", i), "1", fmt.Sprint("end", i), 10)
			l.Divergence, l.Share, l.Order = b.mark, b.share, b.order
			lines = append(lines, l)
		}
		n, _ := Build(lines, DefaultOptions())
		if down := n.Down(edgeNamed(n, lines, "up")); lines[n.Edges[down].Line].Name != c.main {
			t.Errorf("%s: %s goes on, want %s", c.name, lines[n.Edges[down].Line].Name, c.main)
		}
		var minor []string
		for i := range n.Edges {
			if n.Edges[i].Minor {
				minor = append(minor, lines[n.Edges[i].Line].Name)
			}
		}
		slices.Sort(minor)
		if !slices.Equal(minor, c.minor) {
			t.Errorf("%s: minor are %v, want %v", c.name, minor, c.minor)
		}
	}
}

// TestALineGoesOn: where a line begins at another that continues past the place, the other is the
// main path, whatever their names; by hand.
func TestALineGoesOn(t *testing.T) {
	g := ground{}
	for _, names := range [][2]string{{"a", "z"}, {"z", "a"}} {
		lines := []Line{g.line(names[0], 0, 600, -200, 0), g.line(names[1], 0, 900, 0, 600, 0, 0)}
		n, _ := Build(lines, DefaultOptions())
		if len(n.Edges) != 3 {
			t.Fatalf("%d edges", len(n.Edges))
		}
		for _, e := range n.Edges {
			if begins := lines[e.Line].Name == names[0]; e.Minor != begins {
				t.Errorf("%v: line %s is minor: %v", names, lines[e.Line].Name, e.Minor)
			}
		}
	}
}

// TestOrderBelow: NHDPlus Version 2 User Guide, StreamOrde and StreamCalc, one line for each rule:
// heads, two equal, two different, three equal, minor paths that pass 0 downstream and keep the
// order, and only minor paths.
func TestOrderBelow(t *testing.T) {
	type pair = [2]int
	for _, c := range []struct {
		name string
		in   []pair // order and calc of the edges above
		want pair
	}{
		{"a head", nil, pair{1, 1}},
		{"one above", []pair{{3, 3}}, pair{3, 3}},
		{"two alike", []pair{{2, 2}, {2, 2}}, pair{3, 3}},
		{"two unlike", []pair{{2, 2}, {1, 1}}, pair{2, 2}},
		{"unlike, the larger last", []pair{{1, 1}, {2, 2}}, pair{2, 2}},
		{"three alike", []pair{{1, 1}, {1, 1}, {1, 1}}, pair{2, 2}},
		{"two alike and a larger", []pair{{1, 1}, {1, 1}, {2, 2}}, pair{2, 2}},
		{"a minor path beside the main one", []pair{{3, 3}, {3, 0}}, pair{3, 3}},
		{"a minor path of higher order", []pair{{2, 2}, {4, 0}}, pair{2, 2}},
		{"minor paths alone", []pair{{3, 0}, {2, 0}}, pair{3, 0}},
		{"minor paths alone, alike", []pair{{3, 0}, {3, 0}}, pair{3, 0}},
	} {
		n := &Network{}
		var in []int32
		for i, p := range c.in {
			n.Edges = append(n.Edges, Edge{Order: p[0], Calc: p[1]})
			in = append(in, int32(i))
		}
		if order, calc := n.orderBelow(in); (pair{order, calc}) != c.want {
			t.Errorf("%s: order %d, calc %d, want %v", c.name, order, calc, c.want)
		}
	}
}

// TestPlacesByRecordedLength: a line of 1112 m with a recorded length half as much again, digitised
// down and up: places along it, their measures and river kilometres; by hand.
func TestPlacesByRecordedLength(t *testing.T) {
	for _, up := range []bool{false, true} {
		a := plain("a", orb.Point{0, 0.01}, orb.Point{0, 0})
		a.From, a.To = "1", "2"
		if up {
			slices.Reverse(a.Path)
			a.Sequence = 2
		}
		b := plain("b", orb.Point{0, 0}, orb.Point{0, -0.01})
		b.From, b.To, b.Length = "2", "3", 5000
		n, _ := Build([]Line{a, b}, DefaultOptions())
		own := n.LineLength(0)
		near(t, "geodesic length", own, 1105.743, 0.001)
		a.Length = own * 1.5
		n, _ = Build([]Line{a, b}, DefaultOptions())
		e := n.Edges[n.EdgesOf(0)[0]]
		near(t, "length", e.Length, float64(own)*1.5, 1e-9)
		for _, share := range []geo.Meters{0, 0.25, 1} {
			p := n.At(0, share*own)
			down := share
			if e.Flipped {
				down = 1 - share
			}
			near(t, "offset", p.Offset, float64(down*e.Length), 1e-6)
			near(t, "measure", e.Measure(p.Offset), float64(share*own), 1e-6)
			near(t, "river kilometres", e.RiverKm(p.Offset), 5+float64((1-down)*e.Length)/1000, 1e-9)
		}
		near(t, "before the beginning", n.At(0, -5).Offset, float64(n.At(0, 0).Offset), 0)
		near(t, "past the end", n.At(0, 5*own).Offset, float64(n.At(0, own).Offset), 0)
	}
	if got := (Edge{Start: 3, End: 3}).Measure(7); got != 3 {
		t.Errorf("of an edge without length: %v", got)
	}
}

// TestCrossesItself: by hand.
func TestCrossesItself(t *testing.T) {
	for _, c := range []struct {
		name string
		path orb.LineString
		want bool
	}{
		{"straight", orb.LineString{{0, 0}, {1, 1}, {2, 2}, {3, 3}}, false},
		{"too short to cross", orb.LineString{{0, 0}, {1, 1}, {0, 0}}, false},
		{"a bend", orb.LineString{{0, 0}, {2, 0}, {2, 2}, {0, 2}}, false},
		{"closed", orb.LineString{{0, 0}, {2, 0}, {2, 2}, {0, 2}, {0, 0}}, false},
		{"closed and past its beginning", orb.LineString{{0, 0}, {2, 0}, {2, 2}, {0, 2}, {0, -1}}, true},
		{"a loop", orb.LineString{{0, 0}, {3, 0}, {3, 2}, {1, 2}, {1, -1}}, true},
		{"touches itself at a vertex", orb.LineString{{0, 0}, {4, 0}, {4, 2}, {2, 0}, {1, 3}}, true},
		{"just short of itself", orb.LineString{{0, 0}, {4, 0}, {4, 2}, {2, 0.001}, {1, 3}}, false},
		{"back over itself", orb.LineString{{0, 0}, {3, 0}, {1, 0}, {1, 2}}, true},
		{"on in line, with a vertex twice", orb.LineString{{0, 0}, {1, 0}, {1, 0}, {2, 0}, {1, 1}}, false},
		{"an eight", orb.LineString{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, true},
		{"an eight over the antimeridian", orb.LineString{{179, 0}, {-179, 2}, {-179, 0}, {179, 2}}, true},
		{"no eight over the antimeridian", orb.LineString{{179, 0}, {-179, 0}, {-179, 2}, {179, 2}}, false},
	} {
		if got := crossesItself(c.path); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
		back := slices.Clone(c.path)
		slices.Reverse(back)
		if got := crossesItself(back); got != c.want {
			t.Errorf("%s, from the other end: %v", c.name, got)
		}
	}
}

// TestHeap: numbers come off in order, whatever the order they were added.
func TestHeap(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 9))
	for size := range 40 {
		var w Walker
		want := make([]int32, size)
		for i := range want {
			want[i] = random.Int32N(30)
			w.push(want[i])
		}
		slices.Sort(want)
		for i, v := range want {
			if got := w.pop(); got != v {
				t.Fatalf("%d of %d: %d, want %d", i, size, got, v)
			}
		}
		if len(w.heap) != 0 {
			t.Fatalf("%d left", len(w.heap))
		}
	}
}

// TestRings: which components have more edges than a tree; by hand.
func TestRings(t *testing.T) {
	lines := []Line{
		byNode("a1", "1", "2", 10), byNode("a2", "3", "2", 10), byNode("a3", "2", "4", 10), // a tree
		byNode("b1", "11", "12", 10), byNode("b2", "12", "13", 10), byNode("b3", "12", "13", 10), // a braid
		byNode("c1", "21", "22", 10), // one line
	}
	n, _ := Build(lines, DefaultOptions())
	if got := n.ringed(); !slices.Equal(got, []bool{false, true, false}) {
		t.Errorf("%v", got)
	}
}

// TestSinglesAreToldAsSuch: messages that count other lines leave the count out where there are
// none.
func TestSinglesAreToldAsSuch(t *testing.T) {
	lines := []Line{
		named(plain("a", orb.Point{0, 0}, orb.Point{0, -0.01}), "1", "2"),
		plain("b", orb.Point{0, -0.01}, orb.Point{0, -0.02}),
	}
	want := "line b has no node names, and lines that it joins have"
	for _, more := range []string{"", "; nor have 1 more", "; nor have 2 more"} {
		_, troubles := Build(lines, DefaultOptions())
		var got []string
		for _, x := range troubles {
			if x.Kind == NamesIncomplete {
				got = append(got, x.Message)
			}
		}
		if len(got) != 1 || got[0] != want+more {
			t.Errorf("%d lines: %q, want %q", len(lines), got, want+more)
		}
		y := -0.02 - 0.01*float64(len(lines)-2)
		lines = append(lines, plain(strings.Repeat("c", len(lines)), orb.Point{0, y}, orb.Point{0, y - 0.01}))
	}
}

// TestClosedLineIsOneWitness: a line that returns to its own beginning is one line that ends and
// one that begins there, not two. Three orders fall down a chain, and one more at a pond drawn as a
// ring: four against, which is reported; the ring counts for nothing else.
func TestClosedLineIsOneWitness(t *testing.T) {
	at := func(y float64) orb.Point { return orb.Point{0, -y / 100} }
	var lines []Line
	for i, order := range []int32{5, 4, 3, 2} {
		l := plain(fmt.Sprint("l", i), at(float64(i)), at(float64(i+1)))
		l.Order = order
		lines = append(lines, l)
	}
	count := func(lines []Line) string {
		_, troubles := Build(lines, DefaultOptions())
		for _, x := range troubles {
			if x.Kind == AllAgainst {
				_, reason, _ := strings.Cut(x.Message, "flow: ")
				return reason
			}
		}
		return ""
	}
	if got, want := count(lines), "the recorded order falls on the way down at 3 places, rises at 0"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	ring := plain("ring", at(4), orb.Point{0.005, -0.045}, orb.Point{-0.005, -0.045}, at(4))
	ring.Order = 1
	// l3 of order 2 falls once to the ring, of order 1; from the ring to itself there is no change
	if got, want := count(append(lines, ring)), "the recorded order falls on the way down at 4 places, rises at 0"; got != want {
		t.Errorf("with a ring: %q, want %q", got, want)
	}
}

package flow

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// doubling is a tree in which two lines of a kilometre meet at every node, over the given number of
// levels. The lowest line is "r", the two above it "r0" and "r1", and so on.
func doubling(levels int) []Line {
	lines := []Line{byNode("r", "n", "mouth", 1000)}
	for first, last := 0, 1; levels > 1; levels-- {
		for _, below := range lines[first:last] {
			for _, side := range []string{"0", "1"} {
				node := below.From
				lines = append(lines, byNode(below.Name+side, node+side, node, 1000))
			}
		}
		first, last = last, len(lines)
	}
	for i := range lines {
		lines[i].Area = 3
	}
	return lines
}

// TestDoublingTree: by hand: at the k-th level from the top the order is k (Strahler) and 2^k - 1
// lines are above; the distance to the mouth is the number of levels below.
func TestDoublingTree(t *testing.T) {
	const levels = 7
	lines := doubling(levels)
	n, troubles := Build(lines, DefaultOptions())
	if len(troubles) != 0 || len(n.Edges) != 127 {
		t.Fatalf("%d edges, %v", len(n.Edges), troubles)
	}
	for i := range n.Edges {
		e := &n.Edges[i]
		k := levels - len(lines[e.Line].Name) + 1
		above := math.Exp2(float64(k)) - 1
		if e.Order != k || e.Calc != k || e.Minor {
			t.Errorf("%s: order %d, calc %d, want %d", lines[e.Line].Name, e.Order, e.Calc, k)
		}
		near(t, "km above", e.UpstreamKm, above, 1e-9)
		near(t, "km2 above", e.Drainage, 3*above, 1e-9)
		near(t, "km to the mouth", e.OutletKm, float64(levels-k), 1e-9)
	}
}

// TestSweepOfADoublingTree: one unit at each of 64 heads, half of which passes each line. Every
// level carries 64, since twice as many lines meet. With a dam at each node that lets half through,
// the rest halves each time. By hand.
func TestSweepOfADoublingTree(t *testing.T) {
	lines := doubling(7)
	n, _ := Build(lines, DefaultOptions())
	tr := everywhere(n, math.Ln2/1000)
	var heads []Source
	for i := range n.Edges {
		if len(n.In(n.Edges[i].From)) == 0 {
			heads = append(heads, Source{Place{int32(i), 0}, 2})
		}
	}
	s := n.Sweep(tr, heads)
	for i := range n.Edges {
		near(t, "outflow", s.Outflow[i], 1, 1e-12)
	}
	near(t, "left", s.Left, 1, 1e-12)
	near(t, "settled", s.Settled, 127, 1e-9) // 1 on each line
	for i := range tr.Pass {
		tr.Pass[i] = 0.5
	}
	s = n.Sweep(tr, heads)
	near(t, "left past dams", s.Left, 1.0/128, 1e-12)
	held := 0.0
	for k := range 7 { // 64 lines hold a half, 32 hold a quarter, ...
		held += math.Exp2(float64(6-k)) * math.Exp2(-float64(k+1))
	}
	near(t, "held at dams", s.Held, held, 1e-12)
	// the same backwards: one head by itself
	f := n.Fate(tr).From(Place{heads[0].Edge, 0})
	near(t, "left of one", f.Left, math.Exp2(-14), 1e-15)
}

// islands is a row of islands: a line, two arms, a line, two arms; all are a kilometre long except
// the second arm of each island, which has three.
func islands(count int) []Line {
	var lines []Line
	for i := range count {
		top, head, foot := fmt.Sprint("t", i), fmt.Sprint("h", i), fmt.Sprint("t", i+1)
		lines = append(lines, byNode(fmt.Sprintf("s%02d", i), top, head, 1000), byNode(fmt.Sprintf("a%02d", i), head, foot, 1000), byNode(fmt.Sprintf("b%02d", i), head, foot, 3000))
	}
	return append(lines, byNode("z", fmt.Sprint("t", count), "mouth", 1000))
}

// TestRowOfIslands: totals, distance to the mouth, shares and reaches; by hand. Two equal arms take
// half each. Undivided, the release takes the short way, 2 km an island. Divided, it comes together
// again, less what either arm lost.
func TestRowOfIslands(t *testing.T) {
	const count = 9
	lines := islands(count)
	n, _ := Build(lines, DefaultOptions())
	for i := range count {
		s, a, b := n.Edges[edgeNamed(n, lines, fmt.Sprintf("s%02d", i))], n.Edges[edgeNamed(n, lines, fmt.Sprintf("a%02d", i))], n.Edges[edgeNamed(n, lines, fmt.Sprintf("b%02d", i))]
		near(t, "above a stem", s.UpstreamKm, float64(5*i+1), 1e-9)
		near(t, "above a short arm", a.UpstreamKm, float64(5*i+2), 1e-9)
		near(t, "above a long arm", b.UpstreamKm, float64(5*i+4), 1e-9)
		near(t, "share", a.Share, 0.5, 0)
		near(t, "share", b.Share, 0.5, 0)
		near(t, "to the mouth", a.OutletKm, float64(2*(count-1-i)+1), 1e-9)
		if a.Minor || !b.Minor {
			t.Errorf("island %d: minor are %v, %v", i, a.Minor, b.Minor)
		}
	}
	z := edgeNamed(n, lines, "z")
	near(t, "above the mouth", n.Edges[z].UpstreamKm, 5*count+1, 1e-9)
	rate := math.Ln2 / 1000 // half-distance of a kilometre
	start := Place{edgeNamed(n, lines, "s00"), 0}
	swept := n.Sweep(everywhere(n, rate), []Source{{start, 1}})
	island := 0.5 * (0.5*0.5 + 0.5*0.125) // the stem, then half by each arm
	near(t, "left", swept.Left, math.Pow(island, count)*0.5, 1e-15)
	w := n.NewWalker()
	// undivided: a floor of a 64th is 6 km by the short way, three islands; the long arms are 3 km
	// and are reached as far as 6 km from the start: 3 km in the first, 3 in the second, 1 in the
	// third
	length := func(b Bound) (sum geo.Meters) {
		for _, p := range n.Reach(everywhere(n, rate), []Place{start}, b, w) {
			sum += p.To - p.From
		}
		return sum
	}
	near(t, "reach of the whole", length(Bound{Floor: 1.0 / 64}), 6000+3000+3000+1000, 1e-6)
	// divided: one half at the head of the arms' island is 1/4 on each; a floor of 0.2 ends 322 m down each arm
	near(t, "reach divided", length(Bound{Floor: 0.2, Divided: true}), 1000+2*1000*math.Log2(0.25/0.2), 1e-6)
}

// TestIslandsBySize: components are reported as islands below a hundredth of the longest; by hand,
// 0.9 % and 1.1 % of it.
func TestIslandsBySize(t *testing.T) {
	for _, c := range []struct {
		share float64
		told  bool
	}{{0.009, true}, {0.011, false}} {
		long, small := plain("long", orb.Point{0, 0}, orb.Point{0, -1}), plain("small", orb.Point{1, 0}, orb.Point{1, -c.share})
		n, troubles := Build([]Line{long, small}, DefaultOptions())
		at := slices.IndexFunc(troubles, func(x Trouble) bool { return x.Kind == Island })
		if (at >= 0) != c.told || n.Components != 2 {
			t.Fatalf("%v of the longest: %v", c.share, kinds(troubles))
		}
		if at >= 0 && (troubles[at].Message != "1 lines, 0.995 km, from line small on are connected to nothing else" || !slices.Equal(troubles[at].Lines, []int32{1})) {
			t.Errorf("%q, lines %v", troubles[at].Message, troubles[at].Lines)
		}
	}
}

// TestManyMeet: more than twelve lines at one place are reported, twelve are not.
func TestManyMeet(t *testing.T) {
	for _, count := range []int{12, 13} {
		lines := []Line{plain("out", orb.Point{0, 0}, orb.Point{0, -0.01})}
		for i := range count - 1 {
			s, c := math.Sincos(math.Pi * float64(i+1) / float64(count))
			lines = append(lines, plain(fmt.Sprintf("in%02d", i), orb.Point{0.01 * c, 0.01 * s}, orb.Point{0, 0}))
		}
		_, troubles := Build(lines, DefaultOptions())
		if told := slices.Contains(kinds(troubles), ManyMeet); told != (count > 12) {
			t.Errorf("%d lines: %v", count, kinds(troubles))
		}
	}
}

// TestEvidence: three places must speak against the flow, and four times as many as for it; by
// hand.
func TestEvidence(t *testing.T) {
	for _, c := range []struct {
		with, against int
		says          bool
	}{{0, 2, false}, {0, 3, true}, {1, 3, false}, {1, 4, true}, {2, 7, false}, {2, 8, true}, {0, 0, false}, {9, 0, false}} {
		if got := (evidence{c.with, c.against}).says(); got != c.says {
			t.Errorf("%d for, %d against: %v", c.with, c.against, got)
		}
	}
	var e evidence
	for _, sign := range []int{1, -1, -1, 0, 5, -7} {
		e.add(sign)
	}
	if e != (evidence{2, 3}) {
		t.Errorf("%+v", e)
	}
	none := evidence{}
	for _, c := range []struct {
		name   string
		w      witness
		reason string
		says   bool
	}{
		{"slopes first", witness{slope: evidence{0, 5}, orders: evidence{9, 0}, shape: evidence{9, 0}}, "the recorded slope is below 0 on 5 lines, above it on 0", true},
		{"slopes that say nothing, then orders", witness{slope: evidence{5, 0}, orders: evidence{0, 4}, shape: none}, "the recorded order falls on the way down at 4 places, rises at 0", true},
		{"orders that speak for it, whatever the shape", witness{orders: evidence{2, 1}, shape: evidence{0, 9}}, "the recorded order falls on the way down at 1 places, rises at 2", false},
		{"shape alone", witness{shape: evidence{1, 6}}, "the water parts at 6 places, meets at 1", true},
		{"shape that says nothing", witness{shape: evidence{6, 1}}, "the water parts at 1 places, meets at 6", false},
		{"nothing known", witness{}, "the water parts at 0 places, meets at 0", false},
	} {
		if reason, says := c.w.reason(); reason != c.reason || says != c.says {
			t.Errorf("%s: %q, %v", c.name, reason, says)
		}
	}
}

// TestAreasMissing: where some lines have a catchment the others count 0 and are reported; where
// none has, the total is unknown and nothing is reported; by hand.
func TestAreasMissing(t *testing.T) {
	known := []Line{withArea(byNode("a", "1", "2", 1000), 5), byNode("b", "3", "2", 1000), withArea(byNode("c", "2", "4", 1000), 2)}
	n, troubles := Build(known, DefaultOptions())
	near(t, "at the mouth", n.Edges[edgeNamed(n, known, "c")].Drainage, 7, 1e-12)
	near(t, "of one without", n.Edges[edgeNamed(n, known, "b")].Drainage, 0, 0)
	at := slices.IndexFunc(troubles, func(x Trouble) bool { return x.Kind == AreaMissing })
	if at < 0 || !slices.Equal(troubles[at].Lines, []int32{1}) || !strings.HasPrefix(troubles[at].Message, "1 lines have no catchment") {
		t.Errorf("%+v", troubles)
	}
	bare := []Line{byNode("a", "1", "2", 1000), byNode("c", "2", "4", 1000), withArea(byNode("x", "8", "9", 1000), 3)}
	n, troubles = Build(bare, DefaultOptions())
	if v := n.Edges[edgeNamed(n, bare, "c")].Drainage; v == v || slices.Contains(kinds(troubles), AreaMissing) {
		t.Errorf("%v, %v", v, kinds(troubles))
	}
	near(t, "of another part", n.Edges[edgeNamed(n, bare, "x")].Drainage, 3, 0)
	for _, area := range []float64{-1, math.Inf(1), math.NaN()} { // no catchment is such
		odd := []Line{withArea(byNode("a", "1", "2", 1000), area), withArea(byNode("b", "2", "3", 1000), 4)}
		n, _ := Build(odd, DefaultOptions())
		near(t, fmt.Sprint("with ", area), n.Edges[edgeNamed(n, odd, "b")].Drainage, 4, 0)
	}
}

// TestDanglesByDistance: a loose end up to ten snap distances short of a line is reported, and a
// downstream end that points at it up to 100 m; by hand at the equator.
func TestDanglesByDistance(t *testing.T) {
	at := func(x, y float64) orb.Point { return orb.Point{x / 111319.49, y / 110574.3} } // metres
	for _, c := range []struct {
		short float64
		kind  string
	}{{0.5, TJunction}, {1.5, Dangle}, {9.9, Dangle}, {10.1, Dangle}, {99.9, Dangle}, {100.2, ""}} {
		lines := []Line{plain("stem", at(0, 900), at(0, -900)), plain("x", at(700, 0), at(c.short, 0))}
		n, troubles := Build(lines, DefaultOptions())
		told := ""
		for _, x := range troubles {
			if x.Kind == TJunction || x.Kind == Dangle {
				told = x.Kind
			}
			if x.Kind == Dangle && !slices.Equal(x.Lines, []int32{1, 0}) {
				t.Errorf("%v m short: lines %v; the one that ends comes first", c.short, x.Lines)
			}
		}
		if told != c.kind || (n.Components == 1) != (c.kind == TJunction) {
			t.Errorf("%v m short: %q in %d parts, want %q", c.short, told, n.Components, c.kind)
		}
		if c.kind == Dangle && !strings.Contains(troubles[slices.IndexFunc(troubles, func(x Trouble) bool { return x.Kind == Dangle })].Message, fmt.Sprintf("ends %.1f m short of line stem", c.short)) {
			t.Errorf("%v m short: %v", c.short, troubles)
		}
	}
}

// TestDrawnAgainstTheFlow: with Upstream, every line without other direction is read from its end
// to its beginning: the same network as with reversed lines, except for the measures.
func TestDrawnAgainstTheFlow(t *testing.T) {
	lines := []Line{plain("a", orb.Point{0, 0}, orb.Point{0, -0.01}), plain("b", orb.Point{0.01, 0}, orb.Point{0, -0.01}), plain("c", orb.Point{0, -0.01}, orb.Point{0, -0.03})}
	back := slices.Clone(lines)
	for i := range back {
		back[i].Path = slices.Clone(back[i].Path)
		slices.Reverse(back[i].Path)
	}
	o := DefaultOptions()
	want, _ := Build(lines, o)
	o.Upstream = true
	got, troubles := Build(back, o)
	if len(troubles) != 0 || len(got.Edges) != len(want.Edges) {
		t.Fatalf("%d edges, %v", len(got.Edges), troubles)
	}
	for i := range want.Edges {
		a, b := want.Edges[i], got.Edges[i]
		if a.Line != b.Line || a.Order != b.Order || a.Flipped || !b.Flipped || want.Nodes[a.To].At != got.Nodes[b.To].At {
			t.Errorf("edge %d: %+v, want %+v", i, b, a)
		}
		near(t, "above", b.UpstreamKm, float64(a.UpstreamKm), 1e-9)
		near(t, "measure of its upper end", b.Measure(0), float64(b.End), 0)
	}
}

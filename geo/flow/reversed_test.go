package flow

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// reversed returns the line digitised in the other direction.
func reversed(l Line) Line {
	l.Path = slices.Clone(l.Path)
	slices.Reverse(l.Path)
	return l
}

// tear drops a share of the lines, reverses a share of the rest, removes the node names of a share
// and shuffles the result.
func tear(lines []Line, drop, turn, bare float64, r *rand.Rand) []Line {
	var out []Line
	for _, l := range lines {
		if r.Float64() < drop {
			continue
		}
		if r.Float64() < turn {
			l = reversed(l)
		}
		if r.Float64() < bare {
			l.From, l.To = "", ""
		}
		out = append(out, l)
	}
	r.Shuffle(len(out), func(i, k int) { out[i], out[k] = out[k], out[i] })
	return out
}

// TestTornExtract tears the New Hope extract in every way at once, with names complete, with gaps,
// and without names. Whatever the network, its figures must follow from its own edges: totals by
// sets, orders by the rule, a closed mass balance; and every outlet but one of each component is
// reported.
func TestTornExtract(t *testing.T) {
	all, _ := nhdplus(t, "nhdplusv2_new_hope_746.geojson")
	for seed, c := range []struct{ drop, turn, bare float64 }{
		{0, 0, 1}, {0.1, 0, 1}, {0, 0.1, 1}, {0, 0.5, 1}, {0.05, 0.05, 1}, {0.3, 0.3, 1}, {0.05, 0.05, 0}, {0.3, 0.5, 0},
		{0.02, 0.02, 0.002}, {0.1, 0.1, 0.3}, {0.9, 0.5, 1},
	} {
		t.Run(fmt.Sprint(c), func(t *testing.T) {
			lines := tear(all, c.drop, c.turn, c.bare, rand.New(rand.NewPCG(uint64(seed), 9)))
			n, troubles := Build(lines, DefaultOptions())
			checkWhole(t, n, lines, troubles)
		})
	}
}

// checkWhole checks a network's figures against its own edges, and its troubles against its shape.
func checkWhole(t *testing.T, n *Network, lines []Line, troubles []Trouble) {
	t.Helper()
	checkTotals(t, n, lines)
	checkOrders(t, n)
	checkMassBalance(t, n)
	checkOutletsTold(t, n, troubles)
	sum := make([]float64, n.Components)
	for i := range n.Edges {
		sum[n.Edges[i].Component] += float64(n.Edges[i].Length.Kilometers())
	}
	for i := range n.Edges {
		e := &n.Edges[i]
		if float64(e.UpstreamKm) > sum[e.Component]*(1+1e-9) {
			t.Errorf("edge %d: %g km above of %g in all", i, e.UpstreamKm, sum[e.Component])
		}
		if down := n.Down(int32(i)); down >= 0 && down <= int32(i) {
			t.Errorf("edge %d flows into %d", i, down)
		}
	}
	for _, x := range troubles {
		if x.Message == "" || x.Repair == "" || len(x.Lines) == 0 || !usable([]orb.Point{x.At}) || x.At == (orb.Point{}) {
			t.Errorf("%+v", x)
		}
	}
}

// checkOrders states the rule of NHDPlus from the outlet up, as it is written.
func checkOrders(t *testing.T, n *Network) {
	t.Helper()
	known := map[int32][2]int{}
	var order func(e int32) [2]int
	order = func(e int32) [2]int {
		if o, ok := known[e]; ok {
			return o
		}
		var orders, calcs []int
		for _, up := range n.In(n.Edges[e].From) {
			o := order(up)
			orders, calcs = append(orders, o[0]), append(calcs, o[1])
		}
		o := [2]int{1, 1}
		if len(orders) > 0 {
			slices.Sort(calcs)
			largest := calcs[len(calcs)-1]
			switch {
			case largest == 0:
				o = [2]int{slices.Max(orders), 0}
			case len(calcs) > 1 && calcs[len(calcs)-2] == largest:
				o = [2]int{largest + 1, largest + 1}
			default:
				o = [2]int{largest, largest}
			}
		}
		if n.Edges[e].Minor {
			o[1] = 0
		}
		known[e] = o
		return o
	}
	for i := range n.Edges {
		if o := order(int32(i)); n.Edges[i].Order != o[0] || n.Edges[i].Calc != o[1] {
			t.Errorf("edge %d: order %d calc %d, by the rule %v", i, n.Edges[i].Order, n.Edges[i].Calc, o)
		}
	}
}

// checkMassBalance releases something on every edge: all of it settles, is held or leaves.
func checkMassBalance(t *testing.T, n *Network) {
	t.Helper()
	tr := everywhere(n, math.Ln2/700)
	var sources []Source
	for i := range n.Edges {
		tr.Pass[i] = []float64{1, 0.7, 1, 1, 0.3}[i%5]
		sources = append(sources, Source{Place{int32(i), n.Edges[i].Length / 3}, float64(1 + i%7)})
	}
	s := n.Sweep(tr, sources)
	if got := s.Settled + s.Held + s.Left; len(n.Edges) > 0 && math.Abs(got/s.Released-1) > 1e-9 {
		t.Errorf("released %g, accounted for %g", s.Released, got)
	}
}

// checkOutletsTold counts the outlets: each except the main one of its component is reported, as a
// second outlet, as a loose branch, or as lines that face each other.
func checkOutletsTold(t *testing.T, n *Network, troubles []Trouble) {
	t.Helper()
	want, told := -n.Components, 0
	for v := range n.Nodes {
		want += count(len(n.In(int32(v))) > 0 && len(n.Out(int32(v))) == 0)
	}
	for _, x := range troubles {
		told += count(x.Kind == TwoOutlets || x.Kind == LooseBranch || x.Kind == ReversedDirection && x.Repair == "kept as an outlet: what floats there leaves the network")
	}
	if told != want {
		t.Errorf("%d low ends told of, want %d", told, want)
	}
}

// TestReversedByNames: with node names, the digitised direction of lines does not matter, be it of
// some or of all lines: every figure stays and each reversed line is named.
func TestReversedByNames(t *testing.T) {
	all, _ := nhdplus(t, "nhdplusv2_new_hope_746.geojson")
	want, _ := Build(all, DefaultOptions())
	for _, share := range []float64{0.02, 0.2, 1} {
		r := rand.New(rand.NewPCG(7, 7))
		lines, turned := slices.Clone(all), map[int32]bool{}
		for i := range lines {
			if r.Float64() < share {
				lines[i], turned[int32(i)] = reversed(lines[i]), true
			}
		}
		got, troubles := Build(lines, DefaultOptions())
		for i := range got.Edges {
			g, w := got.Edges[i], want.Edges[i]
			if g.Flipped != turned[g.Line] {
				t.Errorf("%g: line %s flipped %v, want %v", share, lines[g.Line].Name, g.Flipped, turned[g.Line])
			}
			g.Flipped, w.Flipped = false, false
			g.Start, g.End, w.Start, w.End = 0, 0, 0, 0 // rounding of the length the other way round
			if g != w {
				t.Fatalf("%g: %+v, want %+v", share, g, w)
			}
		}
		if len(troubles) != len(turned) {
			t.Errorf("%g: %d told of, %d reversed", share, len(troubles), len(turned))
		}
		for _, x := range troubles {
			if x.Kind != ReversedDirection || !turned[x.Lines[0]] {
				t.Errorf("%g: %+v", share, x)
			}
		}
	}
}

// TestTornLattices tears lattices, which are all braid.
func TestTornLattices(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 1))
		lines := lattice(rapid.IntRange(2, 9).Draw(rt, "side"))
		for i := range lines {
			lines[i].Area = geo.SquareKilometers(float64(i % 5))
		}
		share := rapid.SampledFrom([]float64{0, 0.1, 0.4})
		lines = tear(lines, share.Draw(rt, "drop"), share.Draw(rt, "turn"), 0, r)
		n, troubles := Build(lines, DefaultOptions())
		checkTotals(rt, n, lines)
		checkOutletsTold(t, n, troubles)
		checkOrders(t, n)
		checkMassBalance(t, n)
		if t.Failed() {
			rt.FailNow()
		}
	})
}

// atSize returns the size of a slow test: full when DRIFTREACH_LONG is set, else usual. An effect
// that grows with the square of the size shows at either.
func atSize(full, usual int) int {
	if os.Getenv("DRIFTREACH_LONG") != "" {
		return full
	}
	return usual
}

// TestLongChain: a hundred thousand lines end to end add up, by names and by positions, digitised
// downstream, or upstream with a sequence.
func TestLongChain(t *testing.T) {
	const step = 1e-5
	count := atSize(100_000, 20_000)
	chain := make([]Line, count)
	for i := range chain {
		chain[i] = plain(fmt.Sprintf("%06d", i), orb.Point{179.5 + step*float64(i), -40}, orb.Point{179.5 + step*float64(i+1), -40})
		chain[i].Length = 1
	}
	check := func(how string) {
		n, troubles := Build(chain, Options{Snap: 0.1, Workers: 2})
		if len(n.Edges) != count || n.Components != 1 {
			t.Fatalf("%s: %d edges in %d parts, %d troubles", how, len(n.Edges), n.Components, len(troubles))
		}
		for i := range n.Edges {
			e := &n.Edges[i]
			if int(e.Line) != i || e.Order != 1 || math.Abs(float64(e.UpstreamKm)-float64(i+1)/1000) > 1e-6 || math.Abs(float64(e.OutletKm)-float64(count-1-i)/1000) > 1e-6 {
				t.Fatalf("%s: edge %d is %+v", how, i, *e)
			}
		}
	}
	check("places")
	for i := range chain {
		chain[i].From, chain[i].To = fmt.Sprint(i), fmt.Sprint(i+1)
	}
	check("names")
	for i := range chain {
		chain[i] = reversed(chain[i])
		chain[i].From, chain[i].To, chain[i].Sequence = "", "", float64(count-i)
	}
	check("sequence")
}

// TestStar: ten thousand lines meet at one place and as many leave it, also through loops that
// return. By hand: half of them is above each line that leaves.
func TestStar(t *testing.T) {
	arms := atSize(10_000, 2_000)
	for _, byNames := range []bool{false, true} {
		var lines []Line
		for i := range arms {
			angle := 2 * math.Pi * float64(i) / float64(arms)
			far := orb.Point{10 + math.Cos(angle), 50 + math.Sin(angle)}
			in := plain(fmt.Sprintf("in%05d", i), far, orb.Point{10, 50})
			out := plain(fmt.Sprintf("out%05d", i), orb.Point{10, 50}, orb.Point{10 + 2*math.Cos(angle+1e-4), 50 + 2*math.Sin(angle+1e-4)})
			in.Length, out.Length = 1000, 2000
			if byNames {
				in.From, in.To, out.From, out.To = fmt.Sprint("a", i), "x", "x", fmt.Sprint("b", i)
				// a second path to each end: as many braids at one node
				twin := out
				twin.Name = fmt.Sprintf("twin%05d", i)
				lines = append(lines, twin)
			}
			lines = append(lines, in, out)
		}
		n, _ := Build(lines, DefaultOptions())
		if n.Components != 1 || len(n.Edges) != len(lines) {
			t.Fatalf("%d parts, %d edges of %d", n.Components, len(n.Edges), len(lines))
		}
		for i := range n.Edges {
			e := &n.Edges[i]
			if lines[e.Line].Length == 1000 {
				continue
			}
			leaving := float64(len(lines) - arms)
			if float64(e.UpstreamKm) != float64(arms+2) || e.Order != 2 || math.Abs(e.Share*leaving-1) > 1e-9 {
				t.Fatalf("%+v", *e)
			}
		}
	}
}

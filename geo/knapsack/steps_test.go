package knapsack

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawPosed draws a problem with some nodes settled: a node that is in has all it needs, and a node
// that needs one that is out is out.
func drawPosed(t *rapid.T, most int) (p *problem, fixed []Fix) {
	p = pose(drawNetwork(t, most), nil)
	fixed = make([]Fix, len(p.members))
	far := leads(p.needs)
	for n := range fixed {
		switch rapid.IntRange(0, 9).Draw(t, "fixed") {
		case 0:
			fixed[n] = In
			for m := range fixed {
				if far[n][m] {
					fixed[m] = In
				}
			}
		case 1:
			fixed[n] = Out
		}
	}
	for n := range fixed { // needed nodes come first
		for _, need := range p.needs[n] {
			if fixed[need] == Out {
				fixed[n] = Out
			}
		}
	}
	for n := range fixed {
		for m := range fixed {
			if fixed[n] == In && far[n][m] {
				fixed[m] = In
			}
		}
	}
	return p, fixed
}

// TestDropDear: exactly those nodes are dropped that cost more, with everything they need, than is
// left. Here the costs are summed directly.
func TestDropDear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, fixed := drawPosed(t, 20)
		left := float64(rapid.IntRange(0, 40).Draw(t, "left"))
		far := leads(p.needs)
		want := slices.Clone(fixed)
		for n := range want {
			if fixed[n] != Free {
				continue
			}
			cost := p.cost[n]
			for m := range far[n] {
				if far[n][m] && m != n && fixed[m] == Free {
					cost += p.cost[m]
				}
			}
			if cost > left {
				want[n] = Out
			}
		}
		s := p.search(left)
		s.dropDear(fixed, left)
		if !slices.Equal(fixed, want) {
			t.Fatalf("%v, want %v", fixed, want)
		}
	})
}

// TestSettleIsSafeAndWhole: a node is settled only if every better set has it, or lacks it, by
// trying every set. And all nodes are settled that the bound allows: those whose cost, times the
// distance of their piece's value per cost from that of the breaking piece, brings the bound down
// to the best so far, with all that follows.
func TestSettleIsSafeAndWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, _ := drawPosed(t, 11)
		n := len(p.members)
		left := float64(rapid.IntRange(0, 30).Draw(t, "left"))
		var values []float64
		sets := map[int]float64{}
		for set := range 1 << n {
			in := make([]bool, n)
			var cost float64
			for i := range in {
				if in[i] = set>>i&1 == 1; in[i] {
					cost += p.cost[i]
				}
			}
			closed := true
			for i := range in {
				closed = closed && (!in[i] || !p.waits(int32(i), in))
			}
			if closed && cost <= left {
				sets[set] = p.valueOf(in)
				values = append(values, sets[set])
			}
		}
		s := p.search(left)
		s.most = rapid.SampledFrom(values).Draw(t, "best so far")
		pieces := p.pieces(p.all())
		most := bound(pieces, left)
		fixed := make([]Fix, n)
		s.settle(pieces, fixed, most, left)
		for set, value := range sets {
			for i, f := range fixed {
				if in := set>>i&1 == 1; value > s.most && (f == In && !in || f == Out && in) {
					t.Fatalf("%v with %g is better than %g: settled are %v", set, value, s.most, fixed)
				}
			}
		}
		at, room := 0, left
		for at < len(pieces) && (pieces[at].value > 0 || pieces[at].value == 0 && pieces[at].cost == 0) && pieces[at].cost <= room {
			room -= pieces[at].cost
			at++
		}
		want, far := make([]Fix, n), leads(p.needs)
		if at < len(pieces) && pieces[at].value >= 0 && pieces[at].cost > 0 && (pieces[at].value > 0 || pieces[at].cost == 0) {
			for k, piece := range pieces {
				for _, i := range piece.nodes {
					lost := math.Abs(piece.value/piece.cost-pieces[at].value/pieces[at].cost) * p.cost[i]
					if k == at || piece.cost == 0 || most-lost > s.most+1e-10*math.Abs(s.most) {
						continue
					}
					for m := range want {
						if k < at && (m == int(i) || far[i][m]) {
							want[m] = In
						}
						if k > at && (m == int(i) || far[m][i]) && want[m] == Free {
							want[m] = Out
						}
					}
				}
			}
		}
		if !slices.Equal(fixed, want) {
			t.Fatalf("settled are %v, want %v: the best so far is %g, the bound %g, %+v", fixed, want, s.most, most, pieces)
		}
	})
}

// TestBoundsNarrow: with any effort, the best value lies between the value found and the bound.
// Both only come nearer with more looks, and meet at the end. No more branches are looked at than
// allowed, except the second of a pair.
func TestBoundsNarrow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, _ := drawPosed(t, 24)
		budget := float64(rapid.IntRange(0, 40).Draw(t, "budget"))
		exact := func(looks int) (value, bound float64, looked int) {
			in, bound, looked := p.exact(budget, make([]Fix, len(p.members)), effort{looks, math.MaxInt})
			return p.valueOf(in), bound, looked
		}
		best, end, _ := exact(math.MaxInt)
		if beats(end, best) {
			t.Fatalf("at the end %g, bound %g", best, end)
		}
		value, most := math.Inf(-1), math.Inf(1)
		for looks := 1; looks < 30; looks += 2 {
			v, b, looked := exact(looks)
			if looked > looks || v < value || b > most || v > best || beats(best, b) {
				t.Fatalf("%d looks of %d: %g to %g, before %g to %g, the best is %g", looked, looks, v, b, value, most, best)
			}
			value, most = v, b
		}
	})
}

// TestWorkIsCounted: a look counts the free nodes and an eighth of all nodes, and the search ends
// once the limit is reached. All costs are even and the budget is odd, so that the bound is never
// reached.
func TestWorkIsCounted(t *testing.T) {
	items := make([]Item, 80)
	for i := range items {
		cost := float64(40 + 2*(i*11%37))
		items[i] = Item{Value: cost, Cost: cost}
	}
	p := pose(items, nil)
	for extra, want := range map[int]int{0: 1, 1: 3} {
		s := p.search(901)
		fixed := make([]Fix, 80)
		for i := range 16 {
			fixed[i] = Out
		}
		s.look(fixed)
		if s.work != 64+10 {
			t.Errorf("a first look counts %d, want 64 free and 10", s.work)
		}
		if bound, looked := s.run(effort{math.MaxInt, s.work + extra}); looked != want || bound < 900 || bound > 901 {
			t.Errorf("%d looks, bound %g, with %d more nodes allowed", looked, bound, extra)
		}
	}
}

// TestSettleFar: pieces that end more than 500 nodes before the place where the budget runs out,
// counting their own nodes, are in; those that begin more than 500 after it are out. By hand, for
// pieces with equal value per cost and a budget that runs out in the sixth.
func TestSettleFar(t *testing.T) {
	for name, one := range map[string]struct {
		nodes [11]int
		want  string // i in, o out, - free
	}{
		"alike":        {[11]int{200, 200, 200, 200, 200, 200, 200, 200, 200, 200, 200}, "iii-----ooo"},
		"just so many": {[11]int{9, 9, 9, 250, 250, 250, 250, 1, 9, 9, 9}, "iii-----ooo"},
		"one more":     {[11]int{9, 9, 9, 251, 250, 250, 251, 9, 9, 9, 9}, "iiii---oooo"},
		"one large":    {[11]int{1, 1, 1, 1, 501, 501, 1, 1, 1, 1, 1}, "iiiii-ooooo"},
		"few":          {[11]int{9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9}, "-----------"},
	} {
		var pieces []piece
		n := int32(0)
		for k, count := range one.nodes {
			p := piece{value: 10 - float64(k)/10, cost: 1}
			for range count {
				p.nodes = append(p.nodes, n)
				n++
			}
			pieces = append(pieces, p)
		}
		fixed := make([]Fix, n)
		settleFar(pieces, 5.5, fixed)
		got := ""
		for _, p := range pieces {
			got += string("-io"[fixed[p.nodes[0]]])
			for _, n := range p.nodes {
				if fixed[n] != fixed[p.nodes[0]] {
					t.Fatalf("%s: a piece is settled in part", name)
				}
			}
		}
		if got != one.want {
			t.Errorf("%s: %s, want %s", name, got, one.want)
		}
	}
}

// TestWhole: counts pieces that fit, one after another, up to the first without value. By hand.
func TestWhole(t *testing.T) {
	pieces := []piece{{value: 9, cost: 2}, {value: 6, cost: 3}, {value: 0, cost: 0}, {value: 1, cost: 1}, {value: 0, cost: 1}, {value: -1, cost: 1}}
	for left, want := range map[float64]int{0: 0, 1.9: 0, 2: 1, 4.9: 1, 5: 3, 5.9: 3, 6: 4, 100: 4} {
		if got := whole(pieces, left); got != want {
			t.Errorf("%d pieces fit into %g, want %d", got, left, want)
		}
	}
	for _, one := range []struct {
		piece
		want bool
	}{{piece{value: -1}, true}, {piece{value: -1, cost: 1}, true}, {piece{}, false}, {piece{cost: 1}, true}, {piece{value: 0.5, cost: 1}, false}, {piece{value: 0.5}, false}} {
		if one.useless() != one.want {
			t.Errorf("%+v is useless: %v", one.piece, !one.want)
		}
	}
	if got := [4]float64{bound(pieces, 0), bound(pieces, 1), bound(pieces, 3.5), bound(pieces, 90)}; got != [4]float64{0, 4.5, 12, 16} {
		t.Errorf("bounds %v", got) // 9 of 2: half of it; and half of 6
	}
}

// TestGoodOfARow: the worst share of the best, plus half the mean share; where no value is possible
// the share is 1. By hand.
func TestGoodOfARow(t *testing.T) {
	r := &rower{problem: pose(make([]Item, 3), nil), most: []float64{10, 20, 0}, budgets: []float64{1, 2, 3}}
	l := &layers{rower: r, worth: []float64{9, 16, 5}}
	if got, want := l.good(), 0.8+0.5*(0.9+0.8+1)/3; math.Abs(got-want) > 1e-12 {
		t.Errorf("%g, want %g", got, want)
	}
	r = &rower{problem: pose([]Item{{3, 2, nil}, {4, 1, nil}, {1, 5, nil}}, nil), most: []float64{4, 0, 8}, budgets: []float64{2, 2.5, 3}}
	if least, all := r.worst([]int32{0, 1, 2}); least != 0.75 || all != 0.75+1+0.875 {
		t.Errorf("worst %g, all %g", least, all) // 3 of 4; nothing possible; 7 of 8
	}
}

// TestEffortOfBest: a whole search looks at as many branches as work allows, at least one.
func TestEffortOfBest(t *testing.T) {
	for nodes, want := range map[int]int{0: 20_000, 1: 1, 7: 7, -3: 1} {
		if got := (Options{Nodes: nodes}).nodes(); got != want {
			t.Errorf("%d: %d, want %d", nodes, got, want)
		}
	}
}

// TestCurveKeepsWhatIsBetter: where a quick result for a larger budget has less value than that for
// a smaller one, the smaller one's set is returned, with the larger one's bound. Over many made
// streams.
func TestCurveKeepsWhatIsBetter(t *testing.T) {
	kept := 0
	for n := range 40 {
		var items []Item
		for i := range 30 {
			it := Item{Value: float64((i*i*7 + n*13) % 23), Cost: float64(3 + (i*11+n*5)%17)}
			if i > 2 && i%3 == 0 {
				it.Needs = []int32{int32(i - 1 - n%3)}
			}
			items = append(items, it)
		}
		var budgets []float64
		for k := range 60 {
			budgets = append(budgets, float64(3*k))
		}
		curve := Curve(items, budgets, Options{Nodes: 1})
		for k, c := range curve {
			one := Best(items, budgets[k], Options{Nodes: 1})
			want := fmt.Sprint(one.Value, one.Bound, one.Exact)
			if k > 0 && curve[k-1].Value > one.Value {
				kept++
				want = fmt.Sprint(curve[k-1].Value, one.Bound, curve[k-1].Value >= one.Bound)
				if !slices.Equal(c.In, curve[k-1].In) || c.Cost != curve[k-1].Cost {
					t.Errorf("budget %g: another set than that of %g", budgets[k], budgets[k-1])
				}
			}
			if got := fmt.Sprint(c.Value, c.Bound, c.Exact); got != want {
				t.Errorf("budget %g: %s, want %s", budgets[k], got, want)
			}
		}
	}
	if kept == 0 {
		t.Error("no answer was worth less than that of less: the test sees nothing")
	}
}

package knapsack

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// mostByFlow is the highest gain of a set that contains everything it needs, for things with whole
// gains: by Picard's cut (Management Science 22(11), 1976), found by shortest augmenting paths in a
// table of residual capacities (Edmonds & Karp, J. ACM 19(2), 1972).
func mostByFlow(gain []int64, needs [][]int32) int64 {
	n := len(gain)
	left := make([][]int64, n+2)
	for i := range left {
		left[i] = make([]int64, n+2)
	}
	const endless = math.MaxInt64 / 4
	most := int64(0)
	for i, g := range gain {
		if g > 0 {
			left[n][i], most = g, most+g
		} else {
			left[i][n+1] = -g
		}
		for _, need := range needs[i] {
			left[i][need] = endless
		}
	}
	for {
		from := slices.Repeat([]int{-1}, n+2)
		from[n] = n
		for queue := []int{n}; len(queue) > 0 && from[n+1] < 0; queue = queue[1:] {
			for to, room := range left[queue[0]] {
				if room > 0 && from[to] < 0 {
					from[to] = queue[0]
					queue = append(queue, to)
				}
			}
		}
		if from[n+1] < 0 {
			return most
		}
		flow := int64(endless)
		for at := n + 1; at != n; at = from[at] {
			flow = min(flow, left[from[at]][at])
		}
		for at := n + 1; at != n; at = from[at] {
			left[from[at]][at] -= flow
			left[at][from[at]] += flow
		}
		most -= flow
	}
}

// drawNetwork draws things that each need some of the few before them, and sometimes one after
// them. This cannot be solved as trees, so cuts are needed. Many have equal values and costs.
func drawNetwork(t *rapid.T, most int) []Item {
	items := make([]Item, rapid.IntRange(1, most).Draw(t, "items"))
	reach, braided := rapid.IntRange(2, 9).Draw(t, "reach"), rapid.IntRange(1, 4).Draw(t, "braided")
	for i := range items {
		items[i].Value = float64(rapid.IntRange(-3, 9).Draw(t, "value"))
		items[i].Cost = float64(rapid.IntRange(0, 5).Draw(t, "cost"))
		for range rapid.IntRange(0, braided).Draw(t, "needs") {
			if need := i - rapid.IntRange(1, reach).Draw(t, "one of them"); need >= 0 {
				items[i].Needs = append(items[i].Needs, int32(need))
			}
		}
		if i > 0 && rapid.IntRange(0, 19).Draw(t, "goes together") == 0 {
			items[i-1].Needs = append(items[i-1].Needs, int32(i))
		}
	}
	return items
}

// TestNestedIsProvedByFlow: at the value per cost of each piece, no set is better than the nested
// sets before and after it, according to a second program in whole numbers. So each nested set has
// the highest value of all sets of its cost, for needs of any shape.
func TestNestedIsProvedByFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := drawNetwork(t, 26)
		needs := needsOf(items)
		in := make([]bool, len(items))
		var value, cost int64
		costs := false
		for _, p := range Nested(items, Options{})[1:] {
			var pieceValue, pieceCost int64
			for _, i := range p.Items {
				if in[i] {
					t.Fatalf("item %d is in two pieces", i)
				}
				in[i] = true
				pieceValue, pieceCost = pieceValue+int64(items[i].Value), pieceCost+int64(items[i].Cost)
			}
			if float64(pieceValue) != p.Value || float64(pieceCost) != p.Cost {
				t.Fatalf("%+v has %d for %d", p, pieceValue, pieceCost)
			}
			for i := range items {
				for _, need := range needs[i] {
					if in[i] && !in[need] {
						t.Fatalf("item %d is in before %d", i, need)
					}
				}
			}
			gain := make([]int64, len(items))
			for i, it := range items { // gain: value less the piece's value per cost times the cost
				gain[i] = int64(it.Value)*pieceCost - pieceValue*int64(it.Cost)
			}
			switch here := value*pieceCost - pieceValue*cost; {
			case pieceCost == 0:
				if pieceValue > 0 && costs {
					t.Fatalf("%+v costs nothing, and comes after what costs", p)
				}
			case here != mostByFlow(gain, needs):
				t.Fatalf("%+v: at its worth the sets about it have %d over, another one %d", p, here, mostByFlow(gain, needs))
			}
			costs = costs || pieceCost > 0
			value, cost = value+pieceValue, cost+pieceCost
		}
		if slices.Contains(in, false) {
			t.Fatalf("not all are in a piece: %v", in)
		}
	})
}

// TestClosureByFlow: for up to 60 nodes, too many to try every set, the set found has the gain
// given by the second program, and contains everything it needs.
func TestClosureByFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := drawNetwork(t, 60)
		p := pose(items, nil)
		gain, whole := make([]float64, len(p.members)), make([]int64, len(p.members))
		for n := range gain {
			whole[n] = int64(3*p.value[n] - 2*p.cost[n])
			gain[n] = float64(whole[n])
		}
		var c closure
		c.links(p.needs)
		in := c.best(gain)
		sum := int64(0)
		for n := range in {
			if !in[n] {
				continue
			}
			sum += whole[n]
			if p.waits(int32(n), in) {
				t.Fatalf("%d is in without what it needs: %v", n, in)
			}
		}
		if most := mostByFlow(whole, p.needs); sum != most {
			t.Fatalf("worth %d, by flow %d", sum, most)
		}
	})
}

// TestOneWholePiece: a core that no cut improves becomes one piece. In it, of the items that may
// come next, the one with the highest value per cost goes first, a tie to the first item. By hand:
// a, b, c and d cost 1 each and have values 1, 2, 5 and 9; c and d both need a and b; no part is
// better than all four, 17 for 4.
func TestOneWholePiece(t *testing.T) {
	both := []int32{0, 1}
	for name, one := range map[string]struct {
		items []Item
		want  []int32
	}{
		"by worth":  {[]Item{{1, 1, nil}, {2, 1, nil}, {5, 1, both}, {9, 1, both}}, []int32{1, 0, 3, 2}},
		"of equals": {[]Item{{1, 1, nil}, {1, 1, nil}, {7, 1, both}, {7, 1, both}}, []int32{0, 1, 2, 3}},
		"for cost":  {[]Item{{2, 4, nil}, {1, 1, nil}, {9, 2, both}, {8, 1, both}}, []int32{1, 0, 3, 2}},
	} {
		pieces := Nested(one.items, Options{})
		if len(pieces) != 2 || !slices.Equal(pieces[1].Items, one.want) {
			t.Errorf("%s: %+v, want one piece of %v", name, pieces, one.want)
		}
	}
}

// TestWhereEmptyOnesGo: an item without cost and value goes with the only item that needs it, or
// with the only item it needs; if nothing needs it, it comes last; if it needs nothing, first. By
// hand.
func TestWhereEmptyOnesGo(t *testing.T) {
	for name, one := range map[string]struct {
		items []Item
		want  [][]int32
	}{
		"before the one that needs it": {[]Item{{}, {9, 1, []int32{0}}, {20, 1, nil}}, [][]int32{{2}, {0, 1}}},
		"after the one it needs":       {[]Item{{9, 1, nil}, {0, 0, []int32{0}}, {20, 1, nil}}, [][]int32{{2}, {0, 1}}},
		"beside another that needs it": {[]Item{{9, 1, nil}, {0, 0, []int32{0}}, {3, 1, []int32{0}}}, [][]int32{{0, 1}, {2}}},
		"beside another it needs":      {[]Item{{9, 1, nil}, {0, 0, nil}, {12, 1, []int32{0, 1}}, {4, 1, []int32{0}}}, [][]int32{{0, 1, 2}, {3}}},
		"alone: last":                  {[]Item{{}, {9, 1, nil}}, [][]int32{{1}, {0}}},
		"above two: first":             {[]Item{{9, 1, []int32{1}}, {}, {3, 1, []int32{1}}}, [][]int32{{1}, {0}, {2}}},
		"below two: last":              {[]Item{{9, 1, nil}, {0, 0, []int32{0, 2}}, {3, 1, nil}}, [][]int32{{0}, {2}, {1}}},
	} {
		var got [][]int32
		for _, p := range Nested(one.items, Options{})[1:] {
			got = append(got, p.Items)
		}
		if !slices.EqualFunc(got, one.want, slices.Equal) {
			t.Errorf("%s: %v, want %v", name, got, one.want)
		}
	}
}

package knapsack

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// tree is items that each need at most one other, so that they form trees, with whole costs. A
// second program finds their best sets, in time proportional to the budget.
type tree struct {
	items    []Item
	children [][]int // by item, and of the roots at the end
}

// bestOf returns, by budget, the best value of closed sets: by dynamic programming over the trees
// from left to right (Johnson & Niemi, Mathematics of Operations Research 8(1), 1983). A negative
// budget allows nothing.
func (t tree) bestOf(budget int) []float64 {
	none := make([]float64, budget+1)
	for _, root := range t.children[len(t.items)] {
		none = t.add(root, none)
	}
	for b := 1; b <= budget; b++ {
		none[b] = max(none[b], none[b-1])
	}
	return none
}

// add returns, by cost, the best value when item i and its subtree may be added to the earlier
// items. before gives the best value by cost without them.
func (t tree) add(i int, before []float64) []float64 {
	with := make([]float64, len(before))
	for b := range with {
		with[b] = math.Inf(-1)
		if cost := int(t.items[i].Cost); b >= cost {
			with[b] = before[b-cost] + t.items[i].Value
		}
	}
	for _, child := range t.children[i] {
		with = t.add(child, with)
	}
	out := make([]float64, len(before))
	for b := range out {
		out[b] = max(before[b], with[b])
	}
	return out
}

func drawTree(t *rapid.T, most int) tree {
	n := rapid.IntRange(1, most).Draw(t, "items")
	out := tree{items: make([]Item, n), children: make([][]int, n+1)}
	perRoot := rapid.IntRange(1, 12).Draw(t, "of a tree")
	for i := range out.items {
		out.items[i].Value = float64(rapid.IntRange(-8, 20).Draw(t, "value"))
		out.items[i].Cost = float64(rapid.IntRange(0, 9).Draw(t, "cost"))
		parent := n
		if i > 0 && rapid.IntRange(0, perRoot).Draw(t, "root") > 0 {
			parent = rapid.IntRange(max(0, i-6), i-1).Draw(t, "needs")
			out.items[i].Needs = []int32{int32(parent)}
		}
		out.children[parent] = append(out.children[parent], i)
	}
	return out
}

// TestBestOnTrees: for up to 40 items on trees the best sets are those of the dynamic programme, at
// every budget; bounds are never below them; and Curve gives the same as Best at each.
func TestBestOnTrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		trees := drawTree(t, 40)
		all := int(totalCost(trees.items))
		want := trees.bestOf(all)
		pieces := Nested(trees.items, Options{})
		var budgets []float64
		for budget := 0; budget <= all; budget += 1 + all/5 {
			budgets = append(budgets, float64(budget))
			c := Best(trees.items, float64(budget), Options{})
			keeps(t, trees.items, nil, float64(budget), c)
			if !c.Exact || c.Value != want[budget] {
				t.Fatalf("budget %d of %d: %g, exact %v; by dynamic programming %g", budget, all, c.Value, c.Exact, want[budget])
			}
			if bound := boundOf(pieces, float64(budget)); bound < want[budget]-1e-9*math.Abs(want[budget]) {
				t.Fatalf("budget %d: bound %g, the best set has %g", budget, bound, want[budget])
			}
			quick := Best(trees.items, float64(budget), Options{Nodes: 1})
			keeps(t, trees.items, nil, float64(budget), quick)
			if quick.Value > want[budget] || quick.Bound < want[budget]-1e-9*math.Abs(want[budget]) || quick.Exact && quick.Value != want[budget] {
				t.Fatalf("budget %d in one look: %g of %g, exact %v; the best set has %g", budget, quick.Value, quick.Bound, quick.Exact, want[budget])
			}
		}
		for k, c := range Curve(trees.items, budgets, Options{}) {
			if c.Value != want[int(budgets[k])] {
				t.Fatalf("budget %g of the curve: %g, want %g", budgets[k], c.Value, want[int(budgets[k])])
			}
		}
	})
}

// TestBestWithSettledOnTrees: an item fixed in is there with everything it needs, at its cost. The
// rest is the best choice from the remaining items, found by the second program with the fixed
// items made free.
func TestBestWithSettledOnTrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		trees := drawTree(t, 25)
		fixed := drawFixed(t, len(trees.items))
		must := forced(trees.items, fixed)
		rest := tree{items: make([]Item, len(trees.items)), children: trees.children}
		copy(rest.items, trees.items)
		var value, cost float64
		for i := range rest.items {
			switch {
			case must[i]:
				value, cost = value+rest.items[i].Value, cost+rest.items[i].Cost
				rest.items[i].Value, rest.items[i].Cost = 1e6, 0 // free of cost, and always chosen
			case fixed != nil && fixed[i] == Out:
				rest.items[i].Cost = 1e5 // too dear for any budget
			}
		}
		settled := 0.0
		for _, in := range must {
			if in {
				settled += 1e6
			}
		}
		for _, extra := range []int{0, 7, 40} {
			budget := cost + float64(extra)
			c := Best(trees.items, budget, Options{Fixed: fixed})
			keeps(t, trees.items, fixed, budget, c)
			want := value + rest.bestOf(extra)[extra] - settled
			if !c.Exact || c.Value != want {
				t.Fatalf("budget %g, %g of it for what is fixed in: %g, exact %v; by dynamic programming %g", budget, cost, c.Value, c.Exact, want)
			}
		}
	})
}

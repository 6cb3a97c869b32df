package knapsack

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// Tries every set of up to ten items. The result must be valid whatever is fixed, and its bound a
// true bound; when all items are searched it must also be exact.
func TestBestAgainstEverySet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := drawItems(t, 10)
		fixed := drawFixed(t, len(items))
		budget := float64(rapid.IntRange(0, 30).Draw(t, "budget"))
		c := Best(items, budget, Options{Fixed: fixed})
		best, ok := every(items, fixed, budget)
		keeps(t, items, fixed, budget, c)
		if ok && c.Bound < best-1e-9*math.Abs(best) {
			t.Fatalf("bound %g is below the best, %g", c.Bound, best)
		}
		if !ok || !c.Exact || math.Abs(c.Value-best) > 1e-9*math.Abs(best) {
			t.Fatalf("%+v, the best is %g", c, best)
		}
		p := pose(items, fixed)
		s, bound := p.around(max(0, budget-p.cost0), 1+int(budget)%5, 0)
		if value := p.value0 + s.most; ok && (value > best+1e-9*math.Abs(best) || p.value0+bound < best-1e-9*math.Abs(best)) {
			t.Fatalf("as of many items: %g, bound %g, the best is %g", value, p.value0+bound, best)
		}
	})
}

// The same for 18 items whose values and costs are not whole numbers, at budgets from nothing to
// all.
func TestBestOfEighteen(t *testing.T) {
	for seed := range uint64(2) {
		random := rand.New(rand.NewPCG(seed, 18))
		items := streamLike(random, 18)
		for k := range 6 {
			budget := totalCost(items) * float64(k) / 5
			c := Best(items, budget, Options{})
			best, _ := every(items, nil, budget)
			if !c.Exact || math.Abs(c.Value-best) > 1e-9 || c.Cost > budget {
				t.Errorf("seed %d, budget %g: %g for %g, the best is %g", seed, budget, c.Value, c.Cost, best)
			}
		}
	}
}

// basin is the number of items in one basin.
const basin = 1000

// streamLike makes items arranged as along streams: each needs up to three earlier items, most of
// which no other item needs; one in ten is braided.
func streamLike(random *rand.Rand, n int) []Item {
	items := make([]Item, n)
	var heads []int32
	for i := range items {
		if i%basin == 0 {
			heads = heads[:0]
		}
		items[i].Value = math.Exp(random.NormFloat64())
		items[i].Cost = math.Exp(random.NormFloat64())
		for range random.IntN(4) {
			if len(heads) > 0 {
				k := random.IntN(len(heads))
				items[i].Needs = append(items[i].Needs, heads[k])
				if random.IntN(10) > 0 {
					heads = append(heads[:k], heads[k+1:]...)
				}
			}
		}
		heads = append(heads, int32(i))
	}
	return items
}

func totalCost(items []Item) float64 {
	var sum float64
	for _, it := range items {
		sum += it.Cost
	}
	return sum
}

// keeps fails when a choice is not closed, ignores what is fixed, exceeds the budget or has wrong
// sums.
func keeps(t *rapid.T, items []Item, fixed []Fix, budget float64, c Choice) {
	must := forced(items, fixed)
	var value, cost, settled float64
	for i, in := range c.In {
		if must[i] {
			settled += items[i].Cost
		}
		switch {
		case must[i] && !in:
			t.Fatalf("item %d is fixed in or needed by such, and not in", i)
		case in && !must[i] && fixed != nil && fixed[i] == Out:
			t.Fatalf("item %d is fixed out and in", i)
		case !in:
			continue
		}
		value, cost = value+items[i].Value, cost+items[i].Cost
		for _, need := range items[i].Needs {
			if !c.In[need] {
				t.Fatalf("item %d is in without %d", i, need)
			}
		}
	}
	if value != c.Value || cost != c.Cost || c.Cost > max(budget, settled) || c.Value > c.Bound {
		t.Fatalf("%+v: sums are %g and %g, budget %g", c, value, cost, budget)
	}
}

// forced returns the items that must be in because of those fixed in, found by repetition until
// nothing changes.
func forced(items []Item, fixed []Fix) []bool {
	in := make([]bool, len(items))
	for i, f := range fixed {
		in[i] = f == In
	}
	for range items {
		for i := range items {
			for _, need := range items[i].Needs {
				in[need] = in[need] || in[i]
			}
		}
	}
	return in
}

// every tries every set. Items fixed in are in at any cost.
func every(items []Item, fixed []Fix, budget float64) (best float64, ok bool) {
	must := forced(items, fixed)
	settled := 0.0
	for i := range items {
		if must[i] {
			settled += items[i].Cost
		}
	}
	best = math.Inf(-1)
	for set := range 1 << len(items) {
		var value, cost float64
		fits := true
		for i, it := range items {
			in := set>>i&1 == 1
			fits = fits && (in || !must[i]) && !(in && !must[i] && fixed != nil && fixed[i] == Out)
			if !in {
				continue
			}
			value, cost = value+it.Value, cost+it.Cost
			for _, need := range it.Needs {
				fits = fits && set>>need&1 == 1
			}
		}
		if fits && cost <= max(budget, settled) {
			best, ok = max(best, value), true
		}
	}
	return best, ok
}

func drawItems(t *rapid.T, most int) []Item {
	items := make([]Item, rapid.IntRange(1, most).Draw(t, "items"))
	density := rapid.IntRange(0, 6).Draw(t, "density")
	for i := range items {
		items[i].Value = float64(rapid.IntRange(-4, 12).Draw(t, "value"))
		items[i].Cost = float64(rapid.IntRange(0, 9).Draw(t, "cost"))
		for j := range items {
			if i != j && rapid.IntRange(0, 19).Draw(t, "needs") < density {
				items[i].Needs = append(items[i].Needs, int32(j))
			}
		}
	}
	return items
}

func drawFixed(t *rapid.T, n int) []Fix {
	if rapid.Bool().Draw(t, "all free") {
		return nil
	}
	fixed := make([]Fix, n)
	for i := range fixed {
		fixed[i] = Fix(max(0, rapid.IntRange(-4, 2).Draw(t, "fixed")))
	}
	return fixed
}

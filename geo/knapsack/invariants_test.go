package knapsack

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// rows returns the items in another order, and the new place of each item.
func rows(items []Item, order []int) (out []Item, at []int32) {
	at = make([]int32, len(items))
	for k, i := range order {
		at[i] = int32(k)
	}
	for _, i := range order {
		it := items[i]
		it.Needs = nil
		for _, need := range items[i].Needs {
			it.Needs = append(it.Needs, at[need])
		}
		out = append(out, it)
	}
	return out, at
}

// TestBestOfTheSameProblem: the same problem written differently has the same best value: items in
// another order, needs given twice or indirectly, other units of value and cost, an extra item with
// a cost and no value, and a set-up split into two of half its cost.
func TestBestOfTheSameProblem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := drawItems(t, 9)
		budget := float64(rapid.IntRange(0, 30).Draw(t, "budget"))
		want := Best(items, budget, Options{})
		same := func(what string, items []Item, budget, scale float64) {
			c := Best(items, budget, Options{})
			if math.Abs(c.Value-want.Value*scale) > 1e-9*math.Abs(want.Value*scale) || !c.Exact || !want.Exact {
				t.Fatalf("%s: %g, exact %v; as it was %g, exact %v", what, c.Value, c.Exact, want.Value*scale, want.Exact)
			}
		}
		order := rand.New(rand.NewPCG(uint64(len(items)), uint64(budget))).Perm(len(items))
		turned, _ := rows(items, order)
		same("in another order", turned, budget, 1)

		wordy := slices.Clone(items)
		closure := leads(needsOf(items))
		for i := range wordy {
			wordy[i].Needs = append(slices.Clone(items[i].Needs), items[i].Needs...)
			for j, far := range closure[i] {
				if far {
					wordy[i].Needs = append(wordy[i].Needs, int32(j))
				}
			}
		}
		same("with all that is implied", wordy, budget, 1)

		scaled := slices.Clone(items)
		for i := range scaled {
			scaled[i].Value, scaled[i].Cost = scaled[i].Value*8, scaled[i].Cost*4
		}
		same("in other units", scaled, budget*4, 8)
		same("with something useless", append(slices.Clone(items), Item{Cost: 1}), budget, 1)

		halves := slices.Clone(items)
		for i := range items { // half of each item's cost moves to a new item that it needs
			halves[i].Cost /= 2
			halves[i].Needs = append(slices.Clone(items[i].Needs), int32(len(halves)))
			halves = append(halves, Item{Cost: items[i].Cost / 2})
		}
		same("with costs in two parts", halves, budget, 1)

		pairs := slices.Clone(items)
		for i := range items { // half of each item's value moves to a new item; the two need each other
			pairs[i].Value /= 2
			pairs[i].Needs = append(slices.Clone(items[i].Needs), int32(len(pairs)))
			pairs = append(pairs, Item{Value: items[i].Value / 2, Needs: []int32{int32(i)}})
		}
		same("with items in two halves that go together", pairs, budget, 1)
	})
}

func needsOf(items []Item) [][]int32 {
	out := make([][]int32, len(items))
	for i := range items {
		out[i] = items[i].Needs
	}
	return out
}

// TestBestByHalves: the best set either contains an item or does not. So the better of two results,
// with the item fixed in (if it fits) and fixed out, equals the result with the item free.
func TestBestByHalves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		items := drawItems(t, 12)
		budget := float64(rapid.IntRange(0, 40).Draw(t, "budget"))
		free := Best(items, budget, Options{})
		for i := range items {
			fixed := make([]Fix, len(items))
			fixed[i] = Out
			without := Best(items, budget, Options{Fixed: fixed})
			fixed[i] = In
			with := Best(items, budget, Options{Fixed: fixed})
			best := without.Value
			if with.Cost <= budget {
				best = max(best, with.Value)
			}
			if math.Abs(best-free.Value) > 1e-9*math.Abs(best) {
				t.Fatalf("item %d: %g without, %g with for %g of %g, free %g", i, without.Value, with.Value, with.Cost, budget, free.Value)
			}
			if without.In[i] || !with.In[i] {
				t.Fatalf("item %d: in without %v, in with %v", i, without.In[i], with.In[i])
			}
		}
	})
}

// TestChainsByHand: on a chain every set is a beginning, so the best one that fits is found by
// walking along. The pieces are the edges of the upper hull of value against cost, by Andrew's
// monotone chain (Information Processing Letters 9(5), 1979).
func TestChainsByHand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "items")
		items := make([]Item, n)
		places := [][2]float64{{0, 0}} // cost and value of each beginning
		for i := range items {
			items[i].Value, items[i].Cost = float64(rapid.IntRange(-9, 20).Draw(t, "value")), float64(rapid.IntRange(1, 9).Draw(t, "cost"))
			if i > 0 {
				items[i].Needs = []int32{int32(i - 1)}
			}
			last := places[i]
			places = append(places, [2]float64{last[0] + items[i].Cost, last[1] + items[i].Value})
		}
		budget := float64(rapid.IntRange(0, int(places[n][0])).Draw(t, "budget"))
		best := 0.0
		for _, p := range places {
			if p[0] <= budget {
				best = max(best, p[1])
			}
		}
		if c := Best(items, budget, Options{}); c.Value != best || !c.Exact {
			t.Fatalf("budget %g: %g, exact %v; the best beginning has %g", budget, c.Value, c.Exact, best)
		}
		var hull [][2]float64
		for _, p := range places {
			for len(hull) > 1 && slope(hull[len(hull)-2], hull[len(hull)-1]) <= slope(hull[len(hull)-1], p) {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		var corners [][2]float64
		at := [2]float64{}
		for _, p := range Nested(items, Options{}) {
			at = [2]float64{at[0] + p.Cost, at[1] + p.Value}
			if k := len(corners); k > 1 && slope(corners[k-2], corners[k-1]) == slope(corners[k-1], at) {
				corners = corners[:k-1] // pieces with equal value per cost form one edge of the hull
			}
			corners = append(corners, at)
		}
		if !slices.Equal(corners, hull) {
			t.Fatalf("nested sets are at %v, the hull is %v", corners, hull)
		}
	})
}

func slope(a, b [2]float64) float64 { return (b[1] - a[1]) / (b[0] - a[0]) }

// TestSetUpsByHand: the items of a site share its set-up. Three sites have a set-up of 3, and items
// with values 2, 3 and 4 for 1 each. For a budget of 6 the best is one whole site, for 8 still. For
// 9 it is the two best items of one site and the best of another, 4 + 3 + 4; for 12 two whole
// sites.
func TestSetUpsByHand(t *testing.T) {
	var items []Item
	for site := range 3 {
		at := int32(4 * site)
		items = append(items, Item{Cost: 3})
		for _, value := range []float64{2, 3, 4} {
			items = append(items, Item{Value: value, Cost: 1, Needs: []int32{at}})
		}
	}
	for budget, want := range map[float64]float64{0: 0, 3: 0, 4: 4, 5: 7, 6: 9, 8: 9, 9: 11, 10: 14, 11: 16, 12: 18, 18: 27, 100: 27} {
		c := Best(items, budget, Options{})
		if c.Value != want || !c.Exact {
			t.Errorf("budget %g: %g, want %g", budget, c.Value, want)
		}
		if want == 0 && slices.Contains(c.In, true) {
			t.Errorf("budget %g: %v are in for nothing", budget, c.In)
		}
	}
	pieces := Nested(items, Options{})
	if len(pieces) != 4 || pieces[0].Cost != 0 || len(pieces[0].Items) != 0 {
		t.Fatalf("%v, want nothing and three sites", pieces)
	}
	for k, p := range pieces[1:] {
		if p.Cost != 6 || p.Value != 9 || len(p.Items) != 4 || int(p.Items[0])%4 != 0 {
			t.Errorf("piece %d is %+v, want a site", k, p)
		}
	}
}

// TestBudgetMetToRounding: ten costs of 0.1 fit a budget of 1, though their binary sum is slightly
// more, and the reported cost is not above the budget.
func TestBudgetMetToRounding(t *testing.T) {
	for _, n := range []int{3, 6, 7, 10, 49} {
		items := make([]Item, n)
		for i := range items {
			items[i] = Item{Value: 1, Cost: 1 / float64(n)}
		}
		c := Best(items, 1, Options{})
		if c.Value != float64(n) || c.Cost > 1 || !c.Exact {
			t.Errorf("%d items of 1/%d: %g of them for %v", n, n, c.Value, c.Cost)
		}
		if c := Best(items, 1-1e-9, Options{}); c.Value != float64(n-1) {
			t.Errorf("%d items of 1/%d for a billionth less: %g of them", n, n, c.Value)
		}
	}
}

// TestManyItemsWithinTheirBound: with more items than are searched as a whole, the result is valid
// and near its bound, and a larger budget never gives a lower value.
func TestManyItemsWithinTheirBound(t *testing.T) {
	if testing.Short() {
		t.Skip("6000 items are searched for some seconds")
	}
	items := streamLike(rand.New(rand.NewPCG(3, 5)), mostExact+1000)
	pieces := Nested(items, Options{})
	for _, share := range []float64{0.03, 0.3} {
		budget := share * totalCost(items)
		c := Best(items, budget, Options{})
		if c.Cost > budget || c.Value > c.Bound || gapOf(c) > 0.001 {
			t.Errorf("%g of the cost: %g of %g for %g of %g", share, c.Value, c.Bound, c.Cost, budget)
		}
		if most := boundOf(pieces, budget); c.Bound > most*(1+1e-9) {
			t.Errorf("%g of the cost: the bound %g is above that of the nested sets, %g", share, c.Bound, most)
		}
		for i, in := range c.In {
			for _, need := range items[i].Needs {
				if in && !c.In[need] {
					t.Fatalf("item %d is in without %d", i, need)
				}
			}
		}
	}
}

// TestItemsOfOurOwnMistake: invalid items give a panic that names the item and the number.
func TestItemsOfOurOwnMistake(t *testing.T) {
	nan := math.NaN()
	for want, call := range map[string]func(){
		"2 items, 1 of them settled":          func() { Best(make([]Item, 2), 1, Options{Fixed: make([]Fix, 1)}) },
		"item 0 has value 1 and cost -1":      func() { Best([]Item{{Value: 1, Cost: -1}}, 1, Options{}) },
		"item 0 has value NaN and cost 0":     func() { Nested([]Item{{Value: nan}}, Options{}) },
		"item 1 has value 0 and cost NaN":     func() { Nested([]Item{{}, {Cost: nan}}, Options{}) },
		"item 0 has value -Inf and cost 0":    func() { Row([]Item{{Value: math.Inf(-1)}}, nil) },
		"item 0 has value 0 and cost +Inf":    func() { Curve([]Item{{Cost: math.Inf(1)}}, []float64{1}, Options{}) },
		"item 1 needs item 2 of 2":            func() { Best([]Item{{}, {Needs: []int32{2}}}, 1, Options{}) },
		"item 0 needs item -1 of 1":           func() { Best([]Item{{Needs: []int32{-1}}}, 1, Options{}) },
		"3 items, 4 of them settled":          func() { Nested(make([]Item, 3), Options{Fixed: make([]Fix, 4)}) },
		"item 0 has value +Inf and cost 0.5":  func() { Best([]Item{{Value: math.Inf(1), Cost: 0.5}}, 1, Options{}) },
		"item 0 has value 0 and cost -1e-300": func() { Best([]Item{{Cost: -1e-300}}, 1, Options{}) },
		"item 2 needs item 1000000 of 3":      func() { Row([]Item{{}, {}, {Needs: []int32{1000000}}}, nil) },
	} {
		func() {
			defer func() {
				if said := fmt.Sprint(recover()); !strings.Contains(said, want) {
					t.Errorf("%s, want: %s", said, want)
				}
			}()
			call()
		}()
	}
}

// TestNothing: no items, or none available.
func TestNothing(t *testing.T) {
	if c := Best(nil, 5, Options{}); c.Value != 0 || c.Cost != 0 || !c.Exact || len(c.In) != 0 || c.Bound != 0 {
		t.Errorf("of no items: %+v", c)
	}
	if p := Nested(nil, Options{}); len(p) != 1 || len(p[0].Items) != 0 {
		t.Errorf("no items nest as %v", p)
	}
	if row := Row(nil, []float64{0.5}); len(row) != 0 {
		t.Errorf("no items in a row: %v", row)
	}
	if got := Curve([]Item{{Value: 1, Cost: 1}}, nil, Options{}); len(got) != 0 {
		t.Errorf("no budgets: %v", got)
	}
	items := []Item{{Value: 5, Cost: 1}, {Value: 7, Cost: 1, Needs: []int32{0}}}
	if c := Best(items, 10, Options{Fixed: []Fix{Out, Free}}); c.Value != 0 || c.In[0] || c.In[1] || !c.Exact {
		t.Errorf("what all need is out: %+v", c)
	}
	if c := Best(items, -3, Options{}); c.Value != 0 || c.Cost != 0 || !c.Exact {
		t.Errorf("a budget below 0: %+v", c)
	}
	if c := Best(items, 0, Options{Fixed: []Fix{Free, In}}); c.Value != 12 || c.Cost != 2 || !c.Exact {
		t.Errorf("fixed in, whatever the budget: %+v", c)
	}
}

// TestCurveInAnyOrder: budgets in any order get the same results as one by one, and none has a
// lower value than a smaller budget, even with a short search.
func TestCurveInAnyOrder(t *testing.T) {
	items := streamLike(rand.New(rand.NewPCG(7, 8)), 60)
	var budgets []float64
	for _, k := range rand.New(rand.NewPCG(1, 1)).Perm(25) {
		budgets = append(budgets, float64(k)/24*totalCost(items))
	}
	for _, nodes := range []int{1, 2, 0} {
		out := Curve(items, budgets, Options{Nodes: nodes})
		for i, c := range out {
			one := Best(items, budgets[i], Options{Nodes: nodes})
			if c.Value < one.Value || c.Bound != one.Bound || c.Cost > budgets[i]*(1+1e-12) || nodes == 0 && c.Value != one.Value {
				t.Errorf("budget %g, %d looks: %g of %g, alone %g of %g", budgets[i], nodes, c.Value, c.Bound, one.Value, one.Bound)
			}
			for j, d := range out {
				if budgets[j] < budgets[i] && d.Value > c.Value {
					t.Errorf("%g for a budget of %g, %g for %g", d.Value, budgets[j], c.Value, budgets[i])
				}
			}
		}
	}
}

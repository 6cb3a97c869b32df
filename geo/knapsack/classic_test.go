package knapsack

import (
	"math"
	"testing"
)

// classic is a published instance of the knapsack problem without needs, in whole numbers, with the
// best value and set.
type classic struct {
	name        string
	budget      int
	cost, value []int
	best        int
	in          []int // 1 for an item of the best set; nil if there are several
}

// classics are instances P01 to P08 of the set KNAPSACK_01 (Burkardt, Florida State
// University; P01 to P06 after Martello & Toth, Knapsack Problems, 1990, and class notes,
// P07 and P08 after Kreher & Stinson, Combinatorial Algorithms, 1999), as it prints them.
// plainBest, a dynamic programme, finds the same values.
var classics = []classic{
	{"P01", 165, []int{23, 31, 29, 44, 53, 38, 63, 85, 89, 82}, []int{92, 57, 49, 68, 60, 43, 67, 84, 87, 72}, 309, []int{1, 1, 1, 1, 0, 1, 0, 0, 0, 0}},
	{"P02", 26, []int{12, 7, 11, 8, 9}, []int{24, 13, 23, 15, 16}, 51, []int{0, 1, 1, 1, 0}},
	{"P03", 190, []int{56, 59, 80, 64, 75, 17}, []int{50, 50, 64, 46, 50, 5}, 150, []int{1, 1, 0, 0, 1, 0}},
	{"P04", 50, []int{31, 10, 20, 19, 4, 3, 6}, []int{70, 20, 39, 37, 7, 5, 10}, 107, []int{1, 0, 0, 1, 0, 0, 0}},
	{"P05", 104, []int{25, 35, 45, 5, 25, 3, 2, 2}, []int{350, 400, 450, 20, 70, 8, 5, 5}, 900, []int{1, 0, 1, 1, 1, 0, 1, 1}},
	{"P06", 170, []int{41, 50, 49, 59, 55, 57, 60}, []int{442, 525, 511, 593, 546, 564, 617}, 1735, []int{0, 1, 0, 1, 0, 0, 1}},
	{"P07", 750, []int{70, 73, 77, 80, 82, 87, 90, 94, 98, 106, 110, 113, 115, 118, 120},
		[]int{135, 139, 149, 150, 156, 163, 173, 184, 192, 201, 210, 214, 221, 229, 240}, 1458, []int{1, 0, 1, 0, 1, 0, 1, 1, 1, 0, 0, 0, 0, 1, 1}},
	{"P08", 6404180,
		[]int{382745, 799601, 909247, 729069, 467902, 44328, 34610, 698150, 823460, 903959, 853665, 551830, 610856, 670702, 488960, 951111, 323046, 446298, 931161, 31385, 496951, 264724, 224916, 169684},
		[]int{825594, 1677009, 1676628, 1523970, 943972, 97426, 69666, 1296457, 1679693, 1902996, 1844992, 1049289, 1252836, 1319836, 953277, 2067538, 675367, 853655, 1826027, 65731, 901489, 577243, 466257, 369261},
		13549094, []int{1, 1, 0, 1, 1, 1, 0, 0, 0, 1, 1, 0, 1, 0, 0, 1, 0, 0, 0, 0, 0, 1, 1, 1}},
}

func (c classic) items() []Item {
	items := make([]Item, len(c.cost))
	for i := range items {
		items[i] = Item{Value: float64(c.value[i]), Cost: float64(c.cost[i])}
	}
	return items
}

// TestClassics: the published best values, and the published sets.
func TestClassics(t *testing.T) {
	for _, one := range classics {
		var value, cost int
		for i, in := range one.in {
			value, cost = value+in*one.value[i], cost+in*one.cost[i]
		}
		if value != one.best || cost > one.budget {
			t.Fatalf("%s as it stands here: %d for %d of %d", one.name, value, cost, one.budget)
		}
		c := Best(one.items(), float64(one.budget), Options{})
		if c.Value != float64(one.best) || !c.Exact || c.Cost > float64(one.budget) || c.Bound < c.Value {
			t.Errorf("%s: %g for %g, bound %g, exact %v; published: %d", one.name, c.Value, c.Cost, c.Bound, c.Exact, one.best)
		}
		for i, in := range one.in {
			if c.In[i] != (in == 1) {
				t.Errorf("%s: item %d in is %v", one.name, i+1, c.In[i])
			}
		}
	}
}

// TestClassicsAtEveryBudget: at each whole budget the value equals that of Bellman's dynamic
// programme (1957), and a larger budget never gives a lower value.
func TestClassicsAtEveryBudget(t *testing.T) {
	for _, one := range classics[:7] {
		best := plainBest(one.cost, one.value, one.budget)
		for budget := 0; budget <= one.budget; budget += 1 + one.budget/60 {
			c := Best(one.items(), float64(budget), Options{})
			if !c.Exact || c.Value != float64(best[budget]) {
				t.Errorf("%s, budget %d: %g, exact %v; by dynamic programming %d", one.name, budget, c.Value, c.Exact, best[budget])
			}
		}
	}
}

// plainBest returns, by budget from 0 on, the best value of items without needs whose costs
// are whole numbers.
func plainBest(cost, value []int, budget int) []int {
	best := make([]int, budget+1)
	for i := range cost {
		for b := budget; b >= cost[i]; b-- {
			best[b] = max(best[b], best[b-cost[i]]+value[i])
		}
	}
	return best
}

// TestClassicBounds: without needs the nested sets are the items by value per cost (Dantzig,
// Operations Research 5(2), 1957). The bound at a budget is the value of the leading items that
// fit, plus the part of the next that fits.
func TestClassicBounds(t *testing.T) {
	for _, one := range classics {
		pieces := Nested(one.items(), Options{})
		var row []int32
		for _, p := range pieces {
			row = append(row, p.Items...)
		}
		left, want := float64(one.budget), 0.0
		for k, i := range row {
			worth := func(i int32) float64 { return float64(one.value[i]) / float64(one.cost[i]) }
			if k > 0 && worth(i) > worth(row[k-1]) {
				t.Errorf("%s: item %d, worth %g, comes after one worth %g", one.name, i, worth(i), worth(row[k-1]))
			}
			part := min(1, left/float64(one.cost[i]))
			want, left = want+part*float64(one.value[i]), left-part*float64(one.cost[i])
		}
		if got := boundOf(pieces, float64(one.budget)); math.Abs(got-want) > 1e-9*want || got < float64(one.best) {
			t.Errorf("%s: the bound is %g, by hand %g, the best set has %d", one.name, got, want, one.best)
		}
		c := Best(one.items(), float64(one.budget), Options{Nodes: 1})
		if c.Bound > want*(1+1e-9) || c.Bound < float64(one.best) || c.Value > float64(one.best) {
			t.Errorf("%s in one look: %g of %g, by hand at most %g", one.name, c.Value, c.Bound, want)
		}
	}
}

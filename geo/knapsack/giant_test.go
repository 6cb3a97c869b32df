package knapsack

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// giants are shapes of one basin of n stands, all above one outlet: the last item needs every
// other, directly or not.
var giants = []struct {
	name string
	make func(random *rand.Rand, n int) [][]int32
}{
	{"a line", func(_ *rand.Rand, n int) [][]int32 {
		needs := make([][]int32, n)
		for i := 1; i < n; i++ {
			needs[i] = []int32{int32(i - 1)}
		}
		return needs
	}},
	{"a fan", func(_ *rand.Rand, n int) [][]int32 {
		needs := make([][]int32, n)
		for i := range n - 1 {
			needs[n-1] = append(needs[n-1], int32(i))
		}
		return needs
	}},
	{"a bushy tree", func(random *rand.Rand, n int) [][]int32 { return joining(random, n, 0) }},
	{"a braided tree", func(random *rand.Rand, n int) [][]int32 { return joining(random, n, 0.1) }},
	{"creeks on a river", func(_ *rand.Rand, n int) [][]int32 {
		needs := make([][]int32, n)
		for i := 1; i < n; i++ {
			switch {
			case i%20 == 1: // a creek begins
			case i%20 == 0:
				needs[i] = []int32{int32(i - 1)}
				if i > 20 {
					needs[i] = append(needs[i], int32(i-20))
				}
			default:
				needs[i] = []int32{int32(i - 1)}
			}
		}
		return needs
	}},
	{"a line of unlike reaches", func(random *rand.Rand, n int) [][]int32 {
		return reaching(random, n, func(i int) int { return i + 1 })
	}},
	{"creeks of unlike reaches", func(random *rand.Rand, n int) [][]int32 {
		return reaching(random, n, func(i int) int {
			if i%20 == 0 {
				return i + 20
			}
			return i + 1
		})
	}},
}

// joining is a tree that grows by joining up to three heads.
func joining(random *rand.Rand, n int, braided float64) [][]int32 {
	needs := make([][]int32, n)
	var heads []int32
	for i := range n {
		joins := random.IntN(4)
		if i == n-1 {
			joins = len(heads)
		}
		for j := range joins {
			if len(heads) == 0 {
				break
			}
			k := random.IntN(len(heads))
			if i == n-1 {
				k = j
			}
			needs[i] = append(needs[i], heads[k])
			if i < n-1 && random.Float64() >= braided {
				heads[k] = heads[len(heads)-1]
				heads = heads[:len(heads)-1]
			}
		}
		slices.Sort(needs[i])
		needs[i] = slices.Compact(needs[i])
		heads = append(heads, int32(i))
	}
	return needs
}

// reaching: each stand leads to the next ones down a random number of stands, one to ten.
func reaching(random *rand.Rand, n int, next func(int) int) [][]int32 {
	needs := make([][]int32, n)
	for i := range n {
		at := i
		for range 1 + random.IntN(10) {
			at = next(at)
			if at < n {
				needs[at] = append(needs[at], int32(i))
			}
		}
	}
	return needs
}

// worths are distributions of value along the water. The argument is the share of all stands before
// this one.
var worths = []struct {
	name string
	more func(random *rand.Rand, n int) []float64
}{
	{"alike", func(_ *rand.Rand, n int) []float64 { return slices.Repeat([]float64{1}, n) }},
	{"most below", func(_ *rand.Rand, n int) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = 0.1 + 9.9*float64(i)/float64(n)
		}
		return out
	}},
	{"in patches", func(random *rand.Rand, n int) []float64 {
		out, at := make([]float64, n), 1.0
		for i := range out {
			if i%(n/30+1) == 0 {
				at = math.Exp(1.5 * random.NormFloat64())
			}
			out[i] = at
		}
		return out
	}},
}

// giant makes one basin of n items.
func giant(shape, worth, n int) []Item {
	random := rand.New(rand.NewPCG(1, 1))
	needs, more := giants[shape].make(random, n), worths[worth].more(random, n)
	items := make([]Item, n)
	for i := range items {
		items[i] = Item{more[i] * math.Exp(random.NormFloat64()), math.Exp(random.NormFloat64()), needs[i]}
	}
	return items
}

// In one giant basin of any shape, wherever the value is, the result is within 2 % of the best
// possible, closed and within the budget, and the nodes looked at stay within the limits plus one
// look. The short form has basins a little above mostExact, where the same search begins.
func TestGiantBasins(t *testing.T) {
	n := 10_000
	if testing.Short() {
		n = mostExact + 200
	}
	for shape := range giants {
		for worth := range worths {
			items := giant(shape, worth, n)
			for _, share := range []float64{0.2, 0.5} {
				name := fmt.Sprintf("%s, worth %s, %g of the cost", giants[shape].name, worths[worth].name, share)
				checkGiant(t, name, items, share*totalCost(items), shape == 0)
			}
		}
	}
}

// checkGiant checks one result against these rules.
func checkGiant(t *testing.T, name string, items []Item, budget float64, line bool) {
	t.Helper()
	p := pose(items, nil)
	s, bound := p.around(budget, usualNodes, mostExact) // the same call as in Best
	c := p.choice(s.best)
	c.Bound = max(bound, c.Value)
	if gap := gapOf(c); gap > 0.02 || c.Cost > budget*(1+met) {
		t.Errorf("%s: a gap of %.2f %%, cost %g of %g", name, 100*gap, c.Cost, budget)
	}
	if best := beginningOf(items, budget); line && (beats(bound, c.Value) || math.Abs(c.Value-best) > 1e-9*best) {
		t.Errorf("%s: %g, bound %g; the beginning that fits is worth %g", name, c.Value, bound, best)
	}
	for i, in := range c.In {
		for _, need := range items[i].Needs {
			if in && !c.In[need] {
				t.Fatalf("%s: %d is in without %d", name, i, need)
			}
		}
	}
	if s.work > wholeWork+3*len(items) {
		t.Errorf("%s: %d nodes were looked at", name, s.work)
	}
}

// beginningOf is the value of the longest beginning that fits: on a line there are no other sets.
func beginningOf(items []Item, budget float64) (value float64) {
	for _, it := range items {
		if budget -= it.Cost; budget < 0 {
			break
		}
		value += it.Value
	}
	return value
}

// BenchmarkGiant does the same for 170,000 items: the largest gap at 5 to 50 % of their cost. One
// result takes a third of the printed time.
func BenchmarkGiant(b *testing.B) {
	for shape := range giants {
		for worth := range worths {
			b.Run(giants[shape].name+", "+worths[worth].name, func(b *testing.B) {
				items := giant(shape, worth, 170_000)
				var worst float64
				for b.Loop() {
					for _, share := range []float64{0.05, 0.2, 0.5} {
						worst = max(worst, gapOf(Best(items, share*totalCost(items), Options{})))
					}
				}
				b.ReportMetric(100*worst, "worst_gap_%")
			})
		}
	}
}

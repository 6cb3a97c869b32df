package knapsack

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// For made streams of eight items every row is tried. The worst beginning of the row found has at
// least 95 % of the value possible for any row, or is itself within 5 % of the best sets. The row
// has every item once, after the items it needs.
func TestRowAgainstEveryRow(t *testing.T) {
	shares := []float64{0.2, 0.35, 0.5, 0.7}
	short, searched := 0, 0
	for seed := range uint64(60) {
		items := streamLike(rand.New(rand.NewPCG(seed, 8)), 8)
		most := make([]float64, len(shares))
		for k, share := range shares {
			most[k], _ = every(items, nil, share*totalCost(items)*(1+slight))
		}
		row := Row(items, shares)
		at := make([]int, len(items))
		for place, i := range row {
			at[i] = place + 1
		}
		for i := range items {
			for _, need := range items[i].Needs {
				if at[i] == 0 || at[need] == 0 || at[need] > at[i] {
					t.Fatalf("seed %d: %v: %d is not after %d", seed, row, i, need)
				}
			}
		}
		got, any := worstOf(items, row, shares, most), 0.0
		eachRow(items, nil, func(row []int32) { any = max(any, worstOf(items, row, shares, most)) })
		if any < wanted {
			searched++
		}
		if got < wanted && got < 0.95*any {
			short++
			t.Logf("seed %d: the worst beginning is worth %.3f, of the best row %.3f", seed, got, any)
		}
	}
	if short > 0 || searched < 10 {
		t.Errorf("%d of 60 rows fall short; in %d no row is within 5 %%", short, searched)
	}
}

// worstOf is the lowest share of the best value that a row's beginnings reach.
func worstOf(items []Item, row []int32, shares, most []float64) float64 {
	least := 1.0
	for k, share := range shares {
		budget, value := share*totalCost(items)*(1+slight), 0.0
		for _, i := range row {
			if budget -= items[i].Cost; budget < 0 {
				break
			}
			value += items[i].Value
		}
		if most[k] > 0 {
			least = min(least, value/most[k])
		}
	}
	return least
}

// After many random steps, the sums by layer equal those of their nodes, no set is over its budget,
// each set has everything it needs, and what is marked is what the layers say.
func TestLayersKeepTheirSums(t *testing.T) {
	random := throw(3)
	items := streamLike(rand.New(random), 60)
	items[7].Cost, items[7].Value = 0, 0
	p := pose(items, nil)
	r := &rower{problem: p, total: sum(p.cost)}
	for _, share := range []float64{0.1, 0.3, 0.6} {
		r.budgets = append(r.budgets, share*r.total)
	}
	l := r.layersOf(r.begin(p.pieces(p.all())))
	for range 2000 {
		l.change(random)
		l.repair(random)
		l.fillIn()
		checkMarks(t, l)
		for k := range r.budgets {
			var spent, worth float64
			for n, of := range l.of {
				if int(of) > k {
					continue
				}
				spent, worth = spent+p.cost[n], worth+p.value[n]
				if slices.ContainsFunc(p.needs[n], func(need int32) bool { return int(l.of[need]) > k }) {
					t.Fatalf("node %d is in set %d without what it needs", n, k)
				}
			}
			if math.Abs(spent-l.spent[k]) > 1e-6 || math.Abs(worth-l.worth[k]) > 1e-6 || spent > r.budgets[k]+1e-6 {
				t.Fatalf("set %d: %g and %g, kept as %g and %g, budget %g", k, spent, worth, l.spent[k], l.worth[k], r.budgets[k])
			}
		}
	}
}

// checkMarks holds the marks to the layers.
func checkMarks(t *testing.T, l *layers) {
	t.Helper()
	is := func(m marks, at int32) bool { return at >= 0 && m[at/64]>>(at%64)&1 == 1 }
	for k := range l.has {
		for n := range int32(len(l.of)) {
			in, ready := int(l.of[n]) <= k, true
			for _, need := range l.needs[n] {
				ready = ready && int(l.of[need]) <= k
			}
			at, dear := l.rank[n], l.place[n]
			if is(l.has[k], at) != (in && at >= 0) || is(l.holds[k], dear) != (in && dear >= 0) || is(l.ready[k], at) != (ready && at >= 0) {
				t.Fatalf("set %d, node %d in layer %d, ready %v: marked %v, %v and %v", k, n, l.of[n], ready, is(l.has[k], at), is(l.holds[k], dear), is(l.ready[k], at))
			}
		}
	}
}

// Each node filled in has the highest value per cost of all nodes that fit, a tie to the first:
// checked by looking at every node.
func TestFillInTakesWhatIsWorthMost(t *testing.T) {
	fillIn(t, 80, 2000)
	fillIn(t, 3*mostLimits, 100)
}

func fillIn(t *testing.T, nodes, steps int) {
	random := throw(5)
	items := streamLike(rand.New(random), nodes)
	for i := 0; i < nodes; i += 7 {
		items[i].Value, items[i].Cost = float64(i%3), float64(i%2) // ties, and items without cost or value
	}
	p := pose(items, nil)
	r := &rower{problem: p, total: sum(p.cost)}
	for _, share := range []float64{0.1, 0.3, 0.6} {
		r.budgets = append(r.budgets, share*r.total)
	}
	l := r.layersOf(r.begin(p.pieces(p.all())))
	taken := 0
	for range steps {
		l.change(random)
		l.repair(random)
		want := l.copy()
		for k := range r.budgets {
			for {
				in, most := int32(-1), 0.0
				for n := range int32(len(want.of)) {
					worth := math.Inf(1)
					if p.cost[n] > 0 {
						worth = p.value[n] / p.cost[n]
					}
					if int(want.of[n]) > k && worth > most && want.fits(n, k) {
						in, most = n, worth
					}
				}
				if in < 0 {
					break
				}
				want.move(in, int8(k))
				taken++
			}
		}
		l.fillIn()
		if !slices.Equal(l.of, want.of) || !slices.Equal(l.spent, want.spent) {
			t.Fatalf("layers %v, want %v", l.of, want.of)
		}
	}
	if taken < steps/2 {
		t.Errorf("only %d were filled in: the test sees too little", taken)
	}
}

// Draws spread evenly: of 60,000, each of six numbers comes up some 10,000 times, give or take four
// standard errors (91), and so does each sixth of the shares. The same seed gives the same draws.
func TestDice(t *testing.T) {
	one, other := throw(2), throw(2)
	var whole, parts [6]int
	for range 60_000 {
		n, x := one.below(6), one.share()
		if n != other.below(6) || x != other.share() {
			t.Fatal("the same seed drew something else")
		}
		whole[n]++
		parts[int(6*x)]++ // panics outside 0 to 1
	}
	for k := range whole {
		if math.Abs(float64(whole[k]-10_000)) > 365 || math.Abs(float64(parts[k]-10_000)) > 365 {
			t.Errorf("of 60,000 draws %d and %d are in sixth %d", whole[k], parts[k], k)
		}
	}
}

package knapsack

import (
	"cmp"
	"math"
	"slices"
)

// Best returns the set worth most of those that fit the budget and have all they
// need, or one near it: Bound says how near, Exact when it is the best.
func Best(items []Item, budget float64, opt Options) Choice {
	p := pose(items, opt.Fixed)
	chosen := p.greedy(budget - p.cost0)
	c := p.choice(chosen)
	c.Bound = max(c.Value, p.value0+p.fractional(budget-p.cost0))
	c.Exact = c.Value >= c.Bound
	return c
}

// Curve returns the choice for each of some budgets, which may stand in any
// order: more budget never gives less value.
func Curve(items []Item, budgets []float64, opt Options) []Choice {
	order := make([]int, len(budgets))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(budgets[a], budgets[b]) })
	out := make([]Choice, len(budgets))
	for k, i := range order {
		out[i] = Best(items, budgets[i], opt)
		if k > 0 {
			if last := out[order[k-1]]; last.Value > out[i].Value {
				last.In = slices.Clone(last.In)
				last.Bound, last.Exact = out[i].Bound, last.Value >= out[i].Bound
				out[i] = last
			}
		}
	}
	return out
}

// greedy takes what is worth most for its cost with all that it needs, while it
// fits.
func (p *problem) greedy(left float64) []bool {
	chosen := make([]bool, len(p.members))
	ratio := make([]float64, len(p.members))
	order := make([]int32, len(p.members))
	for n := range order {
		order[n] = int32(n)
		var value, cost float64
		for _, m := range p.unmet(int32(n), chosen) {
			value, cost = value+p.value[m], cost+p.cost[m]
		}
		ratio[n] = value / max(cost, math.SmallestNonzeroFloat64)
	}
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(ratio[b], ratio[a]) })
	for _, n := range order {
		set := p.unmet(n, chosen)
		var value, cost float64
		for _, m := range set {
			value, cost = value+p.value[m], cost+p.cost[m]
		}
		if value > 0 && cost <= left {
			left -= cost
			for _, m := range set {
				chosen[m] = true
			}
		}
	}
	return chosen
}

// unmet lists a node and those it needs, directly or by others, that are not
// chosen.
func (g *graph) unmet(n int32, chosen []bool) []int32 {
	if chosen[n] {
		return nil
	}
	seen := map[int32]bool{n: true}
	set := []int32{n}
	for i := 0; i < len(set); i++ {
		for _, need := range g.needs[set[i]] {
			if !chosen[need] && !seen[need] {
				seen[need] = true
				set = append(set, need)
			}
		}
	}
	return set
}

// fractional is what a budget could bring if nothing needed anything and parts
// could be had.
func (g *graph) fractional(left float64) float64 {
	order := make([]int32, 0, len(g.value))
	var sum float64
	for n, value := range g.value {
		switch {
		case value > 0 && g.cost[n] > 0:
			order = append(order, int32(n))
		case value > 0:
			sum += value
		}
	}
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(g.value[b]/g.cost[b], g.value[a]/g.cost[a]) })
	for _, n := range order {
		part := min(1, max(0, left)/g.cost[n])
		sum += part * g.value[n]
		left -= g.cost[n]
	}
	return sum
}

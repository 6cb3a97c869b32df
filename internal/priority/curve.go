package priority

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"driftreach/geo"
	"driftreach/geo/knapsack"
	"driftreach/internal/drift"
)

// Point is a treated acreage and the exposure it removes.
type Point struct {
	Acres    geo.Acres
	Exposure drift.AmountKm
}

// Curves are the two curves with which the order is compared.
type Curves struct {
	Frontier []Point // an upper bound of the exposure removed by any set of stands that keeps the rule; linear between points
	Chance   []Point // mean of random orders that keep the rule
	Draws    int     // number of random orders
}

// chanceSeed is the seed of the random orders. Our choice.
const chanceSeed = 1

// chanceWork limits the draws: this many stands are drawn in all, in at most a hundred and at least
// three orders. Our choice: the mean of a hundred is good to a hundredth.
const chanceWork = 300_000

// chanceSteps is the number of steps of acreage at which the mean is taken. Our choice.
const chanceSteps = 50

// Against returns the exposure removed by the best sets and by chance, for the same jobs as Order.
// The frontier is the bound of nested best sets (knapsack.Nested). A random order takes next any
// stand with equal chance, of those whose upstream stands are all done. Cost is n log n for each
// draw.
func Against(jobs []Job) Curves {
	items := itemsOf(jobs)
	out := Curves{Frontier: []Point{{}}, Draws: max(3, min(100, chanceWork/max(1, len(jobs))))}
	var at, all Point
	for _, p := range knapsack.Nested(items, knapsack.Options{}) {
		all.Acres += geo.Acres(p.Cost)
		if p.Value > 0 {
			at.Acres, at.Exposure = at.Acres+geo.Acres(p.Cost), at.Exposure+drift.AmountKm(p.Value)
			out.Frontier = append(out.Frontier, at)
		}
	}
	if all.Acres > at.Acres {
		out.Frontier = append(out.Frontier, Point{all.Acres, at.Exposure})
	}
	out.Chance = chance(items, all.Acres, out.Draws)
	return out
}

// chance is the mean of random orders, at even steps of acreage.
func chance(items []knapsack.Item, acres geo.Acres, draws int) []Point {
	out := make([]Point, chanceSteps+1)
	for k := range out {
		out[k].Acres = acres * geo.Acres(k) / chanceSteps
	}
	random, orders := rand.New(rand.NewPCG(chanceSeed, chanceSeed)), ordersOf(items)
	for range draws {
		var value, cost float64
		k := 0
		for _, i := range orders.draw(random) {
			it := &items[i]
			for ; k < chanceSteps && float64(out[k].Acres) <= cost+it.Cost; k++ {
				part := 1.0
				if it.Cost > 0 {
					part = (float64(out[k].Acres) - cost) / it.Cost
				}
				out[k].Exposure += drift.AmountKm((value + part*it.Value) / float64(draws))
			}
			value, cost = value+it.Value, cost+it.Cost
		}
		for ; k <= chanceSteps; k++ {
			out[k].Exposure += drift.AmountKm(value / float64(draws))
		}
	}
	return out
}

// orders draws random orders of items.
type orders struct {
	members  [][]int32 // by group
	neededBy [][]int32 // by group: the groups that need it
	needs    []int32   // by group: how many groups it needs

	// Scratch space.
	waits, free, out []int32
}

func ordersOf(items []knapsack.Item) *orders {
	group, count := knapsack.Mutual(len(items), func(i int32) []int32 { return items[i].Needs })
	o := &orders{members: make([][]int32, count), neededBy: make([][]int32, count), needs: make([]int32, count)}
	for i, g := range group {
		o.members[g] = append(o.members[g], int32(i))
		for _, need := range items[i].Needs {
			if n := group[need]; n != g {
				o.neededBy[n] = append(o.neededBy[n], g)
				o.needs[g]++
			}
		}
	}
	return o
}

// draw draws, again and again, one of the groups whose needs are all done. The next draw overwrites
// the order.
func (o *orders) draw(random *rand.Rand) []int32 {
	waits, free, out := append(o.waits[:0], o.needs...), o.free[:0], o.out[:0]
	for g := range o.members {
		if waits[g] == 0 {
			free = append(free, int32(g))
		}
	}
	for len(free) > 0 {
		k := random.IntN(len(free))
		g := free[k]
		free[k] = free[len(free)-1]
		free = free[:len(free)-1]
		out = append(out, o.members[g]...)
		for _, by := range o.neededBy[g] {
			if waits[by]--; waits[by] == 0 {
				free = append(free, by)
			}
		}
	}
	o.waits, o.free, o.out = waits, free, out
	return out
}

// At returns the exposure removed at an acreage, by linear interpolation between points.
func At(points []Point, acres geo.Acres) drift.AmountKm {
	k, _ := slices.BinarySearchFunc(points, acres, func(p Point, acres geo.Acres) int { return cmp.Compare(p.Acres, acres) })
	switch {
	case k == len(points):
		return points[k-1].Exposure
	case k == 0 || points[k].Acres == points[k-1].Acres:
		return points[k].Exposure
	}
	a, b := points[k-1], points[k]
	return a.Exposure + (b.Exposure-a.Exposure)*drift.AmountKm((acres-a.Acres)/(b.Acres-a.Acres))
}

package plan

import (
	"math"

	"driftreach/geo"
	"driftreach/geo/knapsack"
	"driftreach/internal/drift"
)

// curveSteps are the amounts of money on the curve, as multiples of the money for first treatments.
// Our choice: up to four times as much.
var curveSteps = []drift.Factor{0, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 2, 3, 4}

// mostRepeated is the largest number of pieces of work for which the curve is computed and the plan
// is repeated for every draw. Our choice: with more, this would take longer than the rest of a
// batch.
const mostRepeated = 5000

// curve computes the exposure removed with less and with more money, and what would be added next.
func (p *planner) curve(ask *question, choice knapsack.Choice, sum *Quarter) {
	if len(ask.items) > mostRepeated {
		p.out.TooMany = len(ask.items)
	}
	if len(ask.items) == 0 || p.out.TooMany > 0 || sum.Free == 0 {
		return
	}
	most := drift.AmountKm(0)
	for _, times := range curveSteps {
		point, had := Point{Money: sum.Free * Cost(times)}, choice
		if times != 1 {
			had = p.best(ask, point.Money)
		}
		most = max(most, drift.AmountKm(had.Value)) // a set that fits less money also fits more
		point.Exposure, point.Bound = most, drift.AmountKm(had.Bound)
		p.out.Curve = append(p.out.Curve, point)
		if drift.AmountKm(had.Value) >= sum.All {
			break
		}
	}
	p.next(ask, choice.In, sum)
}

// mostAbove is the largest number of pieces of work that may be added together. Our choice: a
// larger set is not proposed as the next addition.
const mostAbove = 64

// nearBy is the share of the money for first treatments that counts as a little more money. Our
// choice: an amount a programme may still find.
const nearBy = 0.5

// next finds the work to add next: with everything that must come before it, it removes the most
// exposure for its cost. Work that needs only a little more money (nearBy) comes before all other
// work.
func (p *planner) next(ask *question, in []bool, sum *Quarter) {
	best, near := -1.0, false
	seen := make([]int, len(ask.items))
	for it := range ask.items {
		if in[it] || ask.works[it] < 0 {
			continue
		}
		set := unmet(ask.items, in, int32(it), seen)
		if len(set) > mostAbove {
			continue
		}
		cost, value, works := 0.0, 0.0, 0
		for _, member := range set {
			cost, value = cost+ask.items[member].Cost, value+ask.items[member].Value
			if ask.works[member] >= 0 {
				works++
			}
		}
		ratio := math.Inf(1)
		if cost > 0 {
			ratio = value / cost
		}
		more := Cost(cost) - (sum.Free - sum.First)
		if little := more <= nearBy*sum.Free; value > 0 && more > 0 && (little && !near || little == near && ratio > best) {
			best, near = ratio, little
			p.out.Next = &Next{Stand: p.works[ask.works[it]].stand, With: works - 1, More: more, Exposure: drift.AmountKm(value)}
		}
	}
}

// unmet lists an item and everything it needs that is not chosen yet, the item first. seen marks
// the listed items.
func unmet(items []knapsack.Item, in []bool, it int32, seen []int) []int32 {
	stamp := int(it) + 1
	set := []int32{it}
	seen[it] = stamp
	for i := 0; i < len(set) && len(set) <= mostAbove; i++ {
		for _, n := range items[set[i]].Needs {
			if !in[n] && seen[n] != stamp {
				seen[n] = stamp
				set = append(set, n)
			}
		}
	}
	return set
}

// repeat plans the first quarter again for each draw of the drift model, and counts in how many
// draws each row is chosen.
func (p *planner) repeat(ask *question, money Cost, rows []Row) {
	if p.site.Draws == 0 || len(ask.items) == 0 || len(ask.items) > mostRepeated {
		return
	}
	again := question{items: append([]knapsack.Item(nil), ask.items...), works: ask.works, item: ask.item}
	for i := range rows {
		rows[i].Draws = 0
	}
	p.out.Draws = p.site.Draws
	for d := range p.site.Draws {
		if p.ctx.Err() != nil {
			return
		}
		for it, w := range ask.works {
			if w >= 0 {
				again.items[it].Value = float64(p.drawn(w, d))
			}
		}
		choice := p.best(&again, money)
		for i := range rows {
			from, _ := p.of(rows[i].Stand)
			if choice.In[ask.item[from+int32(rows[i].Block)-1]] {
				rows[i].Draws++
			}
		}
	}
}

// drawn is the exposure of a piece of work in a draw: its share of the stand's exposure.
func (p *planner) drawn(w int32, d int) drift.AmountKm {
	st := &p.site.Stands[p.works[w].stand]
	exposure, acres := drift.AmountKm(0), geo.Acres(0)
	for _, b := range st.Waiting {
		exposure, acres = exposure+b.Exposure, acres+b.Acres
	}
	b := p.block(w)
	switch {
	case d >= len(st.Draws):
		return b.Exposure
	case exposure > 0:
		return drift.AmountKm(st.Draws[d]) * b.Exposure / exposure
	case acres > 0: // a stand outside the zone, which only some draws with a wider zone include
		return drift.AmountKm(float64(st.Draws[d]) * float64(b.Acres) / float64(acres))
	}
	return 0
}

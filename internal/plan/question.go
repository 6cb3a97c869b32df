package plan

import (
	"slices"

	"driftreach/geo/knapsack"
	"driftreach/internal/drift"
)

// question is the choice of one quarter: the work that may be done, followed by the set-ups of its
// sites.
type question struct {
	items []knapsack.Item
	works []int32 // by item: its piece of work; -1 for a set-up
	item  []int32 // by work: its item; -1 for none
}

// ask makes the question of a quarter. value gives the value of each piece of work.
func (p *planner) ask(q int, value func(w int32) drift.AmountKm) question {
	ask := question{item: make([]int32, len(p.works))}
	open := make([]bool, len(p.site.Stands))
	for i := range p.site.Stands {
		open[i] = p.site.Stands[i].window(p.quarters[q], q, p.s.LookFirst).Why == ""
	}
	for w := range p.works {
		ask.item[w] = -1
		if p.works[w].done || !open[p.works[w].stand] {
			continue
		}
		ask.item[w] = int32(len(ask.items))
		ask.works = append(ask.works, int32(w))
		ask.items = append(ask.items, knapsack.Item{Value: float64(value(int32(w))), Cost: float64(p.works[w].cost)})
	}
	p.link(&ask)
	p.setUps(&ask)
	return ask
}

// link makes each block need the block above it, and each stand need the last block of every stand
// whose fragments reach it.
func (p *planner) link(ask *question) {
	for i := range p.site.Stands {
		from, to := p.of(int32(i))
		last := int32(-1)
		for w := from; w < to; w++ {
			if it := ask.item[w]; it >= 0 {
				if last >= 0 {
					ask.items[it].Needs = append(ask.items[it].Needs, last)
				}
				last = it
			}
		}
		if last < 0 {
			continue
		}
		for _, below := range p.site.Stands[i].Reaches {
			if it := p.top(ask, below); it >= 0 && below != int32(i) {
				ask.items[it].Needs = append(ask.items[it].Needs, last)
			}
		}
	}
}

// top returns the first item of a stand; -1 for none.
func (p *planner) top(ask *question, stand int32) int32 {
	from, to := p.of(stand)
	for w := from; w < to; w++ {
		if ask.item[w] >= 0 {
			return ask.item[w]
		}
	}
	return -1
}

// setUps adds an item for each site; all work at the site needs it.
func (p *planner) setUps(ask *question) {
	if p.s.SetUp == 0 {
		return
	}
	at := map[int32]int32{}
	for it, n := 0, len(ask.items); it < n; it++ {
		place := p.site.Stands[p.works[ask.works[it]].stand].Place
		site, there := at[place]
		if !there {
			site = int32(len(ask.items))
			at[place] = site
			ask.items = append(ask.items, knapsack.Item{Cost: float64(p.s.SetUp)})
			ask.works = append(ask.works, -1)
		}
		ask.items[it].Needs = append(ask.items[it].Needs, site)
	}
}

// rounding is the relative amount by which a sum of costs may exceed a budget, since the order of
// adding changes the last digits. Our choice.
const rounding = 1e-9

// best is the best set for the money. With outliers first, it is the best of the sets with the most
// outliers.
func (p *planner) best(ask *question, money Cost) knapsack.Choice {
	most := float64(money) * (1 + rounding)
	if !p.s.OutliersFirst || !p.anyOutlier(ask) {
		return knapsack.Best(ask.items, most, knapsack.Options{})
	}
	all := 1.0
	for it := range ask.items {
		all += ask.items[it].Value
	}
	outliers := slices.Clone(ask.items) // an outlier is worth more than all exposure
	for it := range outliers {
		if outliers[it].Value /= all; p.isOutlier(ask, it) {
			outliers[it].Value++
		}
	}
	fixed := make([]knapsack.Fix, len(ask.items))
	for it, in := range knapsack.Best(outliers, most, knapsack.Options{}).In {
		if in && p.isOutlier(ask, it) {
			fixed[it] = knapsack.In // with what it needs
		}
	}
	return knapsack.Best(ask.items, most, knapsack.Options{Fixed: fixed})
}

func (p *planner) isOutlier(ask *question, it int) bool {
	w := ask.works[it]
	return w >= 0 && p.site.Stands[p.works[w].stand].Outlier
}

func (p *planner) anyOutlier(ask *question) bool {
	for it := range ask.items {
		if p.isOutlier(ask, it) {
			return true
		}
	}
	return false
}

package priority

import (
	"driftreach/geo"
	"driftreach/geo/knapsack"
	"driftreach/internal/drift"
)

// Job is one stand as the treatment order sees it.
type Job struct {
	Reaches  []int32        // the stands its fragments reach, ascending
	Exposure drift.AmountKm // exposure removed by treating it: its reach, weighted by the share of fragments afloat
	Acres    geo.Acres      // acres to treat; 0, with an exposure of 0, for a stand already treated
}

// seasons are the shares of all acres at which the order is optimised. Our choice: a treatment
// season usually ends somewhere among them.
var seasons = []float64{0.05, 0.1, 0.2, 0.3, 0.5}

// Order returns each stand's number in the treatment order, counted from 1. A stand always comes
// before the stands its fragments reach. Within this rule, wherever a season ends, the stands
// treated so far remove nearly as much exposure as any other set of stands of the same acreage
// could (knapsack.Row). This is most exact at the shares in seasons. Ties go to the earlier stand.
// A stand without acres and exposure comes last, or directly before the stands it reaches. Stands
// that reach each other along the same water are one piece of work and share a number. Cost is n
// log n.
func Order(jobs []Job) []int {
	items := itemsOf(jobs)
	group, count := knapsack.Mutual(len(jobs), func(i int32) []int32 { return jobs[i].Reaches })
	number, next := make([]int, count), 1
	for _, i := range knapsack.Row(items, seasons) {
		if number[group[i]] == 0 {
			number[group[i]] = next
			next++
		}
	}
	out := make([]int, len(jobs))
	for i, g := range group {
		out[i] = number[g]
	}
	return out
}

// itemsOf makes the knapsack items: a stand needs the stands whose fragments reach it.
func itemsOf(jobs []Job) []knapsack.Item {
	items := make([]knapsack.Item, len(jobs))
	for i := range jobs {
		items[i].Value, items[i].Cost = float64(jobs[i].Exposure), float64(jobs[i].Acres)
		for _, below := range jobs[i].Reaches {
			items[below].Needs = append(items[below].Needs, int32(i))
		}
	}
	return items
}

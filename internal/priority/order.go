package priority

import "driftreach/geo/knapsack"

// Job is what the order weighs about one stand.
type Job struct {
	Reaches  []int32 // the stands its fragments reach, ascending
	Exposure float64 // what treating it takes away: reach, weighted by what floats there
	Acres    float64 // to treat; 0 with an exposure of 0 for what was treated already
}

// seasons are the shares of all acres at which the order is held to the best set
// there is. Our choice: a programme ends somewhere among them.
var seasons = []float64{0.05, 0.1, 0.2, 0.3, 0.5}

// Order returns each stand's number in the treatment order, 1 first. A stand
// never comes after one that its fragments reach. Within that, wherever the
// season ends, what was treated up to there takes away nearly as much exposure as
// any set of stands of as many acres could that keeps the rule, above all at seasons
// (knapsack.Row). Ties go to the earlier stand; what costs no acres and takes away
// nothing comes last, or just before what it reaches. Stands strung along the same
// water can reach each other: those are one piece of work and share a number. Cost
// is n log n.
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

// itemsOf makes a stand need those that reach it.
func itemsOf(jobs []Job) []knapsack.Item {
	items := make([]knapsack.Item, len(jobs))
	for i := range jobs {
		items[i].Value, items[i].Cost = jobs[i].Exposure, jobs[i].Acres
		for _, below := range jobs[i].Reaches {
			items[below].Needs = append(items[below].Needs, int32(i))
		}
	}
	return items
}

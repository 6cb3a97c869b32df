package knapsack

import (
	"cmp"
	"math"
	"slices"
)

// Row returns all items in a row of which each beginning has what it needs and is
// worth nearly as much as the best set that fits its cost, above all at some shares of
// the whole cost, which ascend. Items that need each other lie side by side.
//
// The nested best sets (Nested) make a row that is best on average, and near the
// best wherever no piece of them is large. Where it is not near enough, the best
// set at each share is searched within the one of the next share and about the one
// before, in several sequences of the shares, and the row is taken whose worst
// share is best. Where that is not within 5 % of the best set, the sets are bettered all
// at once (layers.go). One row cannot hold the best set at every share: the best at one
// may leave out what the best at a smaller one has.
func Row(items []Item, shares []float64) []int32 {
	p := pose(items, nil)
	pieces := p.pieces(p.all())
	r := rower{problem: p, total: sum(p.cost), left: rowWork / max(1, len(p.members))}
	for _, share := range shares {
		r.budgets = append(r.budgets, share*r.total*(1+slight))
	}
	best := r.begin(pieces)
	if worst, _ := r.worst(best); worst < nearEnough {
		best = r.anchored(best)
	}
	if worst, _ := r.worst(best); worst < wanted {
		if other := r.anneal(best); r.layersOf(other).good() > r.layersOf(best).good()+worthwhile {
			best = other
		}
	}
	var out []int32
	for _, n := range p.late(best) {
		out = append(out, p.members[n]...)
	}
	return out
}

// nearEnough is the share of the best at which a row is not bettered any more. Our
// choice.
const nearEnough = 0.98

const (
	// wanted is the share of the best below which a row is searched for once more. Our choice.
	wanted = 0.95
	// worthwhile is by how much the row so found must be better. Our choice: less is not worth
	// another order than the quarter before.
	worthwhile = 0.005
)

const (
	// slight is by what share a cost may be above a budget, and a row better than another,
	// and be counted as no more: what areas differ by that are measured from elsewhere. Our
	// choice.
	slight = 1e-6
	// rowWork is how many nodes are looked at in all, by sets of choices: about a second's
	// work. Our choice.
	rowWork = 2_000_000
	// mostRowLooks is how many sets of choices one search may look at. Our choice.
	mostRowLooks = 2000
)

// rower makes rows of nodes.
type rower struct {
	*problem
	total   float64
	budgets []float64
	most    []float64 // by budget: the value no set has more of
	likely  [][]bool  // by budget: a set worth much
	left    int       // how many more sets of choices are looked at
	dense             // for layers
}

// begin makes the row of nested best sets, and bounds what can be had.
func (r *rower) begin(pieces []piece) []int32 {
	row := make([]int32, 0, len(r.members))
	for _, p := range pieces {
		row = append(row, p.nodes...)
	}
	for _, budget := range r.budgets {
		r.most = append(r.most, bound(pieces, budget))
	}
	return row
}

// bound is as Pieces.Bound.
func bound(pieces []piece, budget float64) float64 {
	var value float64
	for _, p := range pieces {
		switch {
		case p.useless():
			return value
		case p.cost > budget:
			return value + p.value*max(0, budget)/p.cost
		}
		value, budget = value+p.value, budget-p.cost
	}
	return value
}

// worst returns the least share of the best that a row's beginnings are worth at the
// budgets, and the sum of the shares.
func (r *rower) worst(row []int32) (least, all float64) {
	least = 1
	var value, cost float64
	at := 0
	for k, budget := range r.budgets {
		for at < len(row) && cost+r.cost[row[at]] <= budget {
			value, cost = value+r.value[row[at]], cost+r.cost[row[at]]
			at++
		}
		share := 1.0
		if r.most[k] > 0 {
			share = value / r.most[k]
		}
		least, all = min(least, share), all+share
	}
	return least, all
}

// anchored tries sequences of the budgets and leanings, and returns the best row of
// all.
func (r *rower) anchored(row []int32) []int32 {
	r.likely = make([][]bool, len(r.budgets))
	for k, budget := range r.budgets {
		var most float64
		r.likely[k], most = r.best(&r.graph, budget, make([]Fix, len(r.members)))
		r.most[k] = min(r.most[k], max(most, r.valueOf(r.likely[k])))
	}
	least, all := r.worst(row)
	for range rounds {
		before := least
		likely := r.likely
		for _, lean := range leanings {
			for _, sequence := range sequences(len(r.budgets)) {
				if least >= nearEnough || r.left <= 0 {
					return row
				}
				sets := r.through(sequence, lean)
				other := r.fillUp(sets)
				if l, a := r.worst(other); l > least+slight || l > least-slight && a > all+slight {
					row, least, all, likely = other, l, a, sets
				}
			}
		}
		if least <= before {
			break
		}
		r.likely = likely
	}
	return row
}

// rounds bounds how often the best row so far is what is leant to.
const rounds = 4

// leanings are by what share of its worth more a node counts for being in the likely set
// at another budget. Our choice.
var leanings = []float64{0, 0.05, 0.1, 0.2, 0.4, 0.8, 1.6}

// sequences lists orders in which k budgets can be dealt with: each first, then those
// above it from the nearest on and those below, and the other way.
func sequences(k int) [][]int {
	var out [][]int
	for first := range k {
		up, down := []int{}, []int{}
		for i := first + 1; i < k; i++ {
			up = append(up, i)
		}
		for i := first - 1; i >= 0; i-- {
			down = append(down, i)
		}
		out = append(out, slices.Concat([]int{first}, up, down))
	}
	return out
}

// through chooses the set at one budget after another, within those of the larger and
// about those of the smaller that are chosen. A node counts for more by the
// budgets to come in whose likely set it is.
func (r *rower) through(sequence []int, lean float64) [][]bool {
	sets := make([][]bool, len(r.budgets))
	leaning := r.graph
	leaning.value = make([]float64, len(r.value))
	for _, k := range sequence {
		fixed := make([]Fix, len(r.members))
		copy(leaning.value, r.value)
		for i, set := range sets {
			if set == nil && i != k && lean > 0 {
				for n, in := range r.likely[i] {
					if in {
						leaning.value[n] += lean * r.value[n]
					}
				}
			}
			for n, in := range set {
				switch {
				case i < k && in:
					fixed[n] = In
				case i > k && !in:
					fixed[n] = Out
				}
			}
		}
		sets[k], _ = r.best(&leaning, r.budgets[k], fixed)
	}
	return sets
}

// best searches the best set, as long as there is time.
func (r *rower) best(g *graph, budget float64, fixed []Fix) ([]bool, float64) {
	chosen, bound, looked := g.exact(budget, fixed, effort{min(mostRowLooks, max(1, r.left)), math.MaxInt})
	r.left -= looked
	return chosen, bound
}

// fillUp makes a row through sets, each within the next, nested best sets between.
func (r *rower) fillUp(sets [][]bool) []int32 {
	row := make([]int32, 0, len(r.members))
	before := make([]bool, len(r.members))
	for k := 0; k <= len(sets); k++ {
		var between []int32
		for n := range before {
			if !before[n] && (k == len(sets) || sets[k][n]) {
				between = append(between, int32(n))
				before[n] = true
			}
		}
		for _, p := range r.pieces(between) {
			row = append(row, p.nodes...)
		}
	}
	return row
}

// late puts what costs and brings nothing as late as what needs it allows, at the
// end where nothing does.
func (p *problem) late(row []int32) []int32 {
	place := make([]int, len(row))
	for at, n := range row {
		place[n] = at
	}
	empty := func(n int32) bool { return p.value[n] == 0 && p.cost[n] == 0 }
	for at := len(row) - 1; at >= 0; at-- {
		n := row[at]
		if !empty(n) {
			continue
		}
		place[n] = len(row)
		for _, by := range p.neededBy[n] {
			place[n] = min(place[n], place[by])
		}
	}
	out := slices.Clone(row)
	slices.SortStableFunc(out, func(a, b int32) int {
		return cmp.Or(cmp.Compare(place[a], place[b]), order(empty(b))-order(empty(a)))
	})
	return out
}

func order(first bool) int {
	if first {
		return 1
	}
	return 0
}

func sum(list []float64) float64 {
	var all float64
	for _, x := range list {
		all += x
	}
	return all
}

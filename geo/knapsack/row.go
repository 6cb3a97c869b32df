package knapsack

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
)

// Row orders all items so that every beginning of the order contains everything its items need and
// has nearly the highest value possible for its cost. It does best at the given shares of the whole
// cost, which must ascend. Items that need each other are neighbours.
//
// The nested best sets (Nested) give an order that is best on average, and nearly best wherever no
// piece is large. Where that is not near enough, Row searches the best set at each share. That set
// must lie within the set chosen for the next share and contain the set chosen for the share
// before. Row tries several sequences of the shares and takes the order whose worst share is
// highest. If that is below 95 % of the best, all sets are improved at once (layers.go). No single
// order can be best at every share: the best set at one share may leave out items of the best set
// at a smaller share.
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

// nearEnough is the share of the best from which a row needs no improvement. Our choice.
const nearEnough = 0.98

const (
	// wanted is the share of the best below which a row is annealed. Our choice.
	wanted = 0.95
	// worthwhile is the least gain for which the annealed row is taken. Our choice: a smaller gain
	// does not justify an order different from the last quarter's.
	worthwhile = 0.005
)

const (
	// slight is the relative difference that does not count, for a cost above a budget and for one
	// row against another: areas measured from different places differ as much. Our choice.
	slight = 1e-6
	// rowWork limits nodes times branches in all. Our choice: about a second's work.
	rowWork = 2_000_000
	// mostRowLooks limits the branches one search may look at. Our choice.
	mostRowLooks = 2000
)

// rower makes rows of nodes.
type rower struct {
	*problem
	total   float64
	budgets []float64
	most    []float64         // by budget: upper bound of the value
	likely  [][]bool          // by budget: a set of high value
	left    int               // how many more branches may be looked at
	known   map[string][]bool // the best sets found, by what was asked
	dense                     // for layers
}

// begin makes the row of nested best sets, and sets the upper bound for each budget.
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

// bound does the same as Pieces.Bound.
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

// worst returns the lowest share of the best that the row reaches at any budget, and the sum of the
// shares.
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

// anchored tries sequences of the budgets with several leanings, and returns the best row found.
func (r *rower) anchored(row []int32) []int32 {
	r.likely, r.known = make([][]bool, len(r.budgets)), map[string][]bool{}
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

// rounds limits how often the search leans on the best row so far. Our choice.
const rounds = 4

// leanings are the shares added to a node's value for each other budget whose likely set contains
// it. Our choice.
var leanings = []float64{0, 0.05, 0.1, 0.2, 0.4, 0.8, 1.6}

// sequences lists the orders in which k budgets are handled. Each budget comes first once, then the
// larger ones ascending, then the smaller ones descending.
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

// through chooses the set at one budget after another. Each set lies within the sets already chosen
// for larger budgets and contains those chosen for smaller ones. A node gains value for each budget
// still to come whose likely set contains it. What was asked before is not searched again.
func (r *rower) through(sequence []int, lean float64) [][]bool {
	sets := make([][]bool, len(r.budgets))
	leaning := r.graph
	leaning.value = make([]float64, len(r.value))
	times := make([]byte, len(r.members)) // how often a node gains
	for _, k := range sequence {
		fixed := make([]Fix, len(r.members))
		clear(times)
		for i, set := range sets {
			if set == nil && i != k && lean > 0 {
				for n, in := range r.likely[i] {
					if in {
						times[n]++
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
		asked := question(k, lean, fixed, times)
		if set, is := r.known[asked]; is {
			sets[k] = set
			continue
		}
		for n, v := range r.value {
			leaning.value[n] = v
			for range times[n] {
				leaning.value[n] += lean * v
			}
		}
		sets[k], _ = r.best(&leaning, r.budgets[k], fixed)
		r.known[asked] = sets[k]
	}
	return sets
}

// question is a key of what is searched: the budget, what is settled, and which free nodes gain how
// often. The gain counts only where there is one.
func question(k int, lean float64, fixed []Fix, times []byte) string {
	key, gains := make([]byte, 0, len(fixed)+9), false
	for n, f := range fixed {
		if f != Free {
			times[n] = 0
		}
		gains = gains || times[n] > 0
		key = append(key, byte(f)<<4|times[n])
	}
	if gains {
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(lean))
	}
	return string(append(key, byte(k)))
}

// best searches for the best set while search steps are left.
func (r *rower) best(g *graph, budget float64, fixed []Fix) ([]bool, float64) {
	chosen, bound, looked := g.exact(budget, fixed, effort{min(mostRowLooks, max(1, r.left)), math.MaxInt})
	r.left -= looked
	return chosen, bound
}

// fillUp makes a row that passes through the given nested sets, with nested best sets in between.
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
		for _, p := range r.apart(between, r.ranked(between)) {
			row = append(row, p.nodes...)
		}
	}
	return row
}

// late moves nodes without cost and value as late as the nodes that need them allow, to the end
// where none does.
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

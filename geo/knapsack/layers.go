package knapsack

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// layers is a row as a search by small changes sees it: by node the first budget whose set
// it is in, len(budgets) for none. The sets are nested by that alone, and each has what
// it needs where no node's layer is before that of a node it needs.
type layers struct {
	*rower
	of    []int8
	spent []float64 // by budget: what the set at it costs
	worth []float64 // by budget: what it is worth
	way   []int32   // room for with
}

// dense is the nodes by what they are worth for their cost.
type dense struct {
	worth []float64 // by node: value for cost, infinite of what costs nothing
	dear  []int32   // what costs something, ascending
	order []int32   // what is worth something, most for its cost first, then ascending
	rank  []int32   // by node: place in order, or after its end
	least []float64 // by place in order: the least cost there or after it
}

// sortByWorth sorts the nodes, once for all steps.
func (r *rower) sortByWorth() {
	d := dense{worth: make([]float64, len(r.members)), rank: make([]int32, len(r.members))}
	for n := range r.members {
		d.worth[n] = math.Inf(1)
		if r.cost[n] != 0 {
			d.dear = append(d.dear, int32(n))
			d.worth[n] = r.value[n] / r.cost[n]
		}
		if d.worth[n] > 0 {
			d.order = append(d.order, int32(n))
		}
	}
	slices.SortFunc(d.order, func(a, b int32) int { return cmp.Or(cmp.Compare(d.worth[b], d.worth[a]), cmp.Compare(a, b)) })
	for n := range d.rank {
		d.rank[n] = int32(len(d.order))
	}
	d.least = make([]float64, len(d.order))
	for at, n := range slices.Backward(d.order) {
		d.rank[n], d.least[at] = int32(at), r.cost[n]
		if at+1 < len(d.order) {
			d.least[at] = min(d.least[at], d.least[at+1])
		}
	}
	r.dense = d
}

// anneal betters a row by simulated annealing (Kirkpatrick, Gelatt & Vecchi, Science
// 220(4598), 1983): a node goes to another layer with what it needs, or with what needs it; what
// does not fit any more goes on to the next layer, what now fits comes in. That changes several
// sets at once, which choosing one within the other cannot. A fixed seed.
func (r *rower) anneal(row []int32) []int32 {
	random := rand.New(rand.NewPCG(annealSeed, annealSeed))
	now := r.layersOf(row)
	best, most, is := now.copy(), now.good(), now.good()
	next := now.copy()
	steps := min(mostSteps, annealWork/max(1, len(r.members)))
	for step := range steps {
		next.take(now)
		next.change(random)
		next.repair(random)
		next.fillIn()
		will := next.good()
		goes := will >= is
		if !goes {
			heat := hottest * math.Pow(coldest/hottest, float64(step)/float64(steps))
			goes = random.Float64() < math.Exp((will-is)/heat)
		}
		if goes {
			now, next, is = next, now, will
		}
		if is > most {
			best.take(now)
			most = is
		}
	}
	return r.fillUp(best.sets())
}

const (
	annealSeed = 1
	// annealWork bounds the steps, each of which goes over all nodes; mostSteps too. Our
	// choice: some tenths of a second.
	annealWork, mostSteps = 5_000_000, 40_000
	// hottest and coldest are by what share of the best a step may lose, at first and at last.
	// Our choice.
	hottest, coldest = 0.03, 0.0005
	// meanCounts is what the mean of the shares counts beside the worst of them. Our choice: a
	// point at the worst is not worth ten at another.
	meanCounts = 0.5
)

// layersOf reads layers from a row.
func (r *rower) layersOf(row []int32) *layers {
	if r.dense.worth == nil {
		r.sortByWorth()
	}
	l := &layers{rower: r, of: make([]int8, len(r.members)), spent: make([]float64, len(r.budgets)), worth: make([]float64, len(r.budgets))}
	var cost float64
	at := 0
	for _, n := range row {
		cost += r.cost[n]
		for at < len(r.budgets) && cost > r.budgets[at] {
			at++
		}
		l.of[n] = int8(len(r.budgets))
		l.move(n, int8(at))
	}
	return l
}

func (l *layers) copy() *layers {
	c := &layers{rower: l.rower, of: make([]int8, len(l.of)), spent: make([]float64, len(l.spent)), worth: make([]float64, len(l.worth))}
	c.take(l)
	return c
}

func (l *layers) take(from *layers) {
	copy(l.of, from.of)
	copy(l.spent, from.spent)
	copy(l.worth, from.worth)
}

// move puts a node into another layer.
func (l *layers) move(n int32, to int8) {
	for k := to; k < l.of[n]; k++ {
		l.spent[k], l.worth[k] = l.spent[k]+l.cost[n], l.worth[k]+l.value[n]
	}
	for k := l.of[n]; k < to; k++ {
		l.spent[k], l.worth[k] = l.spent[k]-l.cost[n], l.worth[k]-l.value[n]
	}
	l.of[n] = to
}

// good is the worst share of the best, and a little of the mean.
func (l *layers) good() float64 {
	worst, all := 1.0, 0.0
	for k, most := range l.most {
		share := 1.0
		if most > 0 {
			share = l.worth[k] / most
		}
		worst, all = min(worst, share), all+share
	}
	return worst + meanCounts*all/float64(len(l.most))
}

// change moves a node drawn at random to a layer drawn at random.
func (l *layers) change(random *rand.Rand) {
	n, to := int32(random.IntN(len(l.of))), int8(random.IntN(len(l.most)+1))
	l.with(n, to)
}

// with moves a node, to an earlier layer with what it needs, to a later one with what
// needs it.
func (l *layers) with(n int32, to int8) {
	along, early := l.needs, to < l.of[n]
	if !early {
		along = l.neededBy
	}
	l.move(n, to)
	way := append(l.way[:0], n)
	for len(way) > 0 {
		at := way[len(way)-1]
		way = way[:len(way)-1]
		for _, next := range along[at] {
			if early == (l.of[next] > to) && l.of[next] != to {
				l.move(next, to)
				way = append(way, next)
			}
		}
	}
	l.way = way
}

// repair moves out of each set that is over its budget what is worth little there, or what is drawn.
func (l *layers) repair(random *rand.Rand) {
	for k := range l.most {
		for l.spent[k] > l.budgets[k] {
			out, least := int32(-1), math.Inf(1)
			for _, n := range l.dear {
				if int(l.of[n]) > k {
					continue
				}
				if worth := l.dense.worth[n] * random.Float64(); worth < least && l.ends(n, k) {
					out, least = n, worth
				}
			}
			if out < 0 {
				break
			}
			l.with(out, int8(k)+1)
		}
	}
}

// ends says whether nothing that costs and is in a set needs a node.
func (l *layers) ends(n int32, k int) bool {
	for _, by := range l.neededBy[n] {
		if int(l.of[by]) <= k && l.cost[by] > 0 {
			return false
		}
	}
	return true
}

// fillIn takes into each set what has all it needs there and fits, what is worth most for its
// cost first.
func (l *layers) fillIn() {
	for k := range l.most {
		for at := int32(0); int(at) < len(l.order); at++ {
			n := l.order[at]
			if int(l.of[n]) <= k || l.spent[k]+l.cost[n] > l.budgets[k] || !l.fits(n, k) {
				if l.spent[k]+l.least[at] > l.budgets[k] {
					break
				}
				continue
			}
			l.move(n, int8(k))
			// Of what did not fit before, only what needs this node may fit now.
			for _, by := range l.neededBy[n] {
				at = min(at, l.rank[by]-1)
			}
		}
	}
}

// fits says whether a node has what it needs in a set, and fits there and on its way.
func (l *layers) fits(n int32, k int) bool {
	for at := k; at < min(int(l.of[n]), len(l.most)); at++ {
		if l.spent[at]+l.cost[n] > l.budgets[at] {
			return false
		}
	}
	for _, need := range l.needs[n] {
		if int(l.of[need]) > k {
			return false
		}
	}
	return true
}

// sets returns by budget which nodes are in.
func (l *layers) sets() [][]bool {
	out := make([][]bool, len(l.most))
	for k := range out {
		out[k] = make([]bool, len(l.of))
		for n, at := range l.of {
			out[k][n] = int(at) <= k
		}
	}
	return out
}

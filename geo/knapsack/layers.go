package knapsack

import (
	"cmp"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
)

// layers is a row in the form that local search uses. It gives by node the index of the first
// budget whose set contains it, len(budgets) for none. So each set contains the one before. A set
// also contains everything its nodes need, as long as no node's layer is before that of a node it
// needs.
type layers struct {
	*rower
	of    []int8
	spent []float64 // by budget: cost of its set
	worth []float64 // by budget: value of its set
	has   []marks   // by budget: its set by place in order
	holds []marks   // by budget: its set by place in dear
	ready []marks   // by budget: by place in order, the nodes for which its set has all they need
	marks marks     // all of has, holds and ready
	from  []int8    // by node: the first budget whose set has all it needs
	top   int8      // the last set that changed since the sets were filled in; -1 where none did
	way   []int32   // scratch space for with
	fit   []marks   // by budget: the places in order that may fit beside its set, by their cost
	old   []bool    // by budget: its set changed since fit was found
}

// dice draws random numbers, the same ones for the same seed.
type dice struct{ *rand.PCG }

func throw(seed uint64) dice { return dice{rand.NewPCG(seed, seed)} }

// below draws a whole number from 0 to n-1.
func (d dice) below(n int) int {
	high, _ := bits.Mul64(d.Uint64(), uint64(n))
	return int(high)
}

// share draws a number from 0 up to 1.
func (d dice) share() float64 { return float64(d.Uint64()>>11) / (1 << 53) }

// dense is the nodes by value per cost.
type dense struct {
	worth []float64 // by node: value per cost, infinite for a cost of 0
	dear  []int32   // nodes with a cost, lowest value per cost first, then ascending
	order []int32   // nodes with a value above 0, highest value per cost first, then ascending
	rank  []int32   // by node: place in order; -1 for nodes not in it
	place []int32   // by node: place in dear; -1 for nodes not in it
	cheap           // by place in order
}

// sortByWorth sorts the nodes by value per cost, once for all steps.
func (r *rower) sortByWorth() {
	d := dense{worth: make([]float64, len(r.members)), rank: make([]int32, len(r.members)), place: make([]int32, len(r.members))}
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
	slices.SortStableFunc(d.dear, func(a, b int32) int { return cmp.Compare(d.worth[a], d.worth[b]) })
	for n := range r.members {
		d.rank[n], d.place[n] = -1, -1
	}
	costs := make([]float64, len(d.order))
	for at, n := range d.order {
		d.rank[n], costs[at] = int32(at), r.cost[n]
	}
	for at, n := range d.dear {
		d.place[n] = int32(at)
	}
	d.cheap = cheapOf(costs)
	r.dense = d
}

// anneal improves a row by simulated annealing (Kirkpatrick, Gelatt & Vecchi, Science 220(4598),
// 1983). A node moves to another layer together with the nodes it needs, or the nodes that need it.
// What no longer fits moves to the next layer; what now fits comes in. This changes several sets at
// once, which choosing the sets one after another cannot do. The seed is fixed.
func (r *rower) anneal(row []int32) []int32 {
	random := throw(annealSeed)
	now := r.layersOf(row)
	best, most, is := now.copy(), now.good(), now.good()
	next := now.copy()
	steps := min(stepsEach*len(r.members), annealWork/max(1, len(r.members)))
	for step := range steps {
		next.take(now)
		next.change(random)
		next.repair(random)
		next.fillIn()
		will := next.good()
		if will >= is || loses(random, is-will, float64(step)/float64(steps)) {
			now, next, is = next, now, will
		}
		if is > most {
			best.take(now)
			most = is
		}
	}
	return r.fillUp(best.sets())
}

// loses draws whether a step that loses so much is taken after a share of all steps.
func loses(random dice, lost, after float64) bool {
	heat := hottest * math.Pow(coldest/hottest, after)
	return random.share() < math.Exp(-lost/heat)
}

const (
	// annealSeed is fixed. Our choice of twelve: one that misses no gain known on our regions.
	annealSeed = 7
	// annealWork limits steps times nodes, and stepsEach the steps for each node. Our choice: some
	// hundredths of a second. Twice as many steps gain nothing, half as many miss some.
	annealWork, stepsEach = 5_000_000, 160
	// hottest and coldest are the shares of the best that a step may lose at the start and at the
	// end. Our choice.
	hottest, coldest = 0.03, 0.0005
	// meanCounts weighs the mean of the shares against the worst share. Our choice: one point at the
	// worst share is not worth ten points at another.
	meanCounts = 0.5
)

// layersOf converts a row to layers.
func (r *rower) layersOf(row []int32) *layers {
	if r.dense.worth == nil {
		r.sortByWorth()
	}
	l := r.noLayers()
	l.top = int8(len(r.budgets)) - 1
	var cost float64
	at := 0
	for _, n := range row {
		cost += r.cost[n]
		for at < len(r.budgets) && cost > r.budgets[at] {
			at++
		}
		l.move(n, int8(at))
	}
	return l
}

// noLayers returns room for layers, with all sets empty.
func (r *rower) noLayers() *layers {
	sets, nodes := len(r.budgets), len(r.members)
	l := &layers{rower: r, of: make([]int8, nodes), spent: make([]float64, sets), worth: make([]float64, sets)}
	l.fit, l.old = make([]marks, sets), slices.Repeat([]bool{true}, sets)
	words := len(marksFor(nodes))
	l.marks, l.from = make(marks, 3*sets*words), make([]int8, nodes)
	part := func(of int) (parts []marks) {
		for k := range sets {
			at := (3*k + of) * words
			parts = append(parts, l.marks[at:at+words])
		}
		return parts
	}
	l.has, l.holds, l.ready = part(0), part(1), part(2)
	for n := range l.of {
		l.of[n], l.from[n] = int8(sets), int8(sets)
	}
	for n := range l.of {
		l.awaits(int32(n))
	}
	return l
}

func (l *layers) copy() *layers {
	c := l.noLayers()
	c.take(l)
	return c
}

func (l *layers) take(from *layers) {
	copy(l.of, from.of)
	copy(l.from, from.from)
	copy(l.spent, from.spent)
	copy(l.worth, from.worth)
	copy(l.marks, from.marks)
	copy(l.fit, from.fit)
	copy(l.old, from.old)
	l.top = from.top
}

// move puts a node into another layer.
func (l *layers) move(n int32, to int8) {
	l.top = max(l.top, max(to, l.of[n])-1)
	for k := to; k < l.of[n]; k++ {
		l.spent[k], l.worth[k] = l.spent[k]+l.cost[n], l.worth[k]+l.value[n]
		l.mark(n, k, true)
	}
	for k := l.of[n]; k < to; k++ {
		l.spent[k], l.worth[k] = l.spent[k]-l.cost[n], l.worth[k]-l.value[n]
		l.mark(n, k, false)
	}
	l.of[n] = to
	for _, by := range l.neededBy[n] {
		l.awaits(by)
	}
}

// awaits marks for which sets a node has all it needs.
func (l *layers) awaits(n int32) {
	var from int8
	for _, need := range l.needs[n] {
		from = max(from, l.of[need])
	}
	if at := l.rank[n]; at >= 0 {
		for k := from; k < l.from[n]; k++ {
			l.ready[k].set(at, true)
		}
		for k := l.from[n]; k < from; k++ {
			l.ready[k].set(at, false)
		}
	}
	l.from[n] = from
}

// mark puts a node into a set's marks, or out of them.
func (l *layers) mark(n int32, k int8, in bool) {
	l.old[k] = true
	if at := l.rank[n]; at >= 0 {
		l.has[k].set(at, in)
	}
	if at := l.place[n]; at >= 0 {
		l.holds[k].set(at, in)
	}
}

// good scores the layers: the worst share of the best plus meanCounts times the mean share.
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

// change moves a random node to a random layer.
func (l *layers) change(random dice) {
	n, to := int32(random.below(len(l.of))), int8(random.below(len(l.most)+1))
	l.with(n, to)
}

// with moves a node to an earlier layer together with what it needs, or to a later one together
// with what needs it.
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

// repair brings each set back to its budget by moving out nodes of low value per cost: the lowest
// that nothing else in the set needs, or with a chance of a half the next one, and so on. If none
// is drawn, the highest goes.
func (l *layers) repair(random dice) {
	for k := range l.most {
		for l.spent[k] > l.budgets[k] {
			out := l.leaves(k, random.Uint64())
			if out < 0 {
				break
			}
			l.with(out, int8(k)+1)
		}
	}
}

// leaves returns the node that repair moves out of set k by a draw; -1 for none.
func (l *layers) leaves(k int, draw uint64) int32 {
	out := int32(-1)
	for w, word := range l.holds[k] {
		for ; word != 0; word &= word - 1 {
			n := l.dear[w<<6+bits.TrailingZeros64(word)]
			if !l.ends(n, k) {
				continue
			}
			if out = n; draw&1 == 1 {
				return out
			}
			draw = bits.RotateLeft64(draw, -1)
		}
	}
	return out
}

// ends says whether no node with a cost in set k needs node n.
func (l *layers) ends(n int32, k int) bool {
	for _, by := range l.neededBy[n] {
		if int(l.of[by]) <= k && l.cost[by] > 0 {
			return false
		}
	}
	return true
}

// fillIn adds to each set the nodes that fit and have everything they need there, highest value per
// cost first. After the last set that changed, nothing more fits.
func (l *layers) fillIn() {
	for k := range int(l.top) + 1 {
		for {
			n := l.enters(k)
			if n < 0 {
				break
			}
			l.move(n, int8(k))
		}
	}
	l.top = -1
}

// enters returns the node that fillIn adds to set k next; -1 for none. It looks at the nodes that may
// fit there and in the sets after it by their cost: 64 at a time.
func (l *layers) enters(k int) int32 {
	for at := k; at < len(l.has); at++ {
		if l.old[at] {
			l.fit[at], l.old[at] = l.cheap.at(l.budgets[at]-l.spent[at]), false
		}
	}
	if l.fit[k] == nil {
		return -1
	}
	for w := range l.fit[k] {
		word, in := ^uint64(0), uint64(0) // which fit into all sets from the one looked at to their own
		for at := len(l.has) - 1; at >= k; at-- {
			word |= in
			in = l.has[at][w]
			if l.fit[at] == nil {
				word = 0
			} else {
				word &= l.fit[at][w] &^ in
			}
		}
		for word &= l.ready[k][w]; word != 0; word &= word - 1 {
			if n := l.order[w<<6+bits.TrailingZeros64(word)]; l.fits(n, k) {
				return n
			}
		}
	}
	return -1
}

// fits says whether set k has everything node n needs, and whether n fits there and in the sets
// after it.
func (l *layers) fits(n int32, k int) bool {
	for at := k; at < min(int(l.of[n]), len(l.most)); at++ {
		if l.cost[n] > l.budgets[at]-l.spent[at] {
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

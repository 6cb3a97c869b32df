package knapsack

import (
	"math"
	"slices"
)

// chain divides the nodes of a graph into pieces of falling value per cost. The pieces up to any
// place together have the highest value of all sets of the same cost that contain everything their
// nodes need. This is Sidney's decomposition (Operations Research 23(2), 1975), which gives the
// nested solutions of the parametric closure problem (Gallo, Grigoriadis & Tarjan, SIAM J. Comput.
// 18(1), 1989; Hochbaum, Management Science 47(11), 2001).
//
// A node with the lowest value per cost that only one other node needs is placed directly before
// that node. A node with the highest value per cost that needs only one other node is placed
// directly after that node (Horn, SIAM J. Appl. Math. 23(2), 1972). This solves trees, the usual
// shape of stream networks, in n log n. The rest is cut at its mean value per cost (cut.go) into a
// first and a last part, until no cut gains anything.
type chain struct {
	*graph
	merged      []int32 // by node: the node it was joined to, itself at first
	joined      []run   // by node that represents a joined row
	above, down [][]int32
	state       []state
	version     []int32
	low, high   heap
	next        []int32 // by node: the next one in its row, -1 at the end
	placed      []run
	seen        []int32
	stamp       int32

	// Scratch space, kept from one decomposition to the next.
	all, few, way, open, first []int32
	held                       []int32 // what lists are made of
	piecesOf                   []int32 // by place in first: pieces that need another
}

// run is a row of nodes linked by chain.next.
type run struct {
	value, cost float64
	head, tail  int32
	rank        float64 // once placed: the sort key
}

type state int8

const (
	outside state = iota // not in the part being solved
	waiting
	done
)

// worth is value per cost: infinite for a cost of 0, NaN where the value is 0 too.
func (r run) worth() float64 { return r.value / r.cost }

// pieces returns the decomposition of the given nodes, best value per cost first. The nodes must be
// ascending. Running time grows with the given nodes, not with the whole graph.
func (g *graph) pieces(nodes []int32) []piece {
	if g.made == nil {
		g.made = &chain{graph: &graph{}}
	}
	c := g.made
	c.part(g, nodes)
	n := len(nodes)
	c.merged, c.joined, c.next, c.all = sized(c.merged, n), sized(c.joined, n), sized(c.next, n), sized(c.all, n)
	c.state, c.version, c.seen = zeroed(c.state, n), zeroed(c.version, n), zeroed(c.seen, n)
	c.low, c.high, c.placed, c.stamp = c.low[:0], c.high[:0], c.placed[:0], 0
	for i := range c.all {
		c.all[i] = int32(i)
		c.merged[i] = int32(i)
		c.joined[i], c.next[i] = run{value: c.value[i], cost: c.cost[i], head: int32(i), tail: int32(i)}, -1
	}
	c.solve(c.all)
	out := c.sorted()
	for _, p := range out {
		for k, i := range p.nodes {
			p.nodes[k] = nodes[i]
		}
	}
	return out
}

// sized is a list of n with anything in it, in the place of another if there is room.
func sized[T any](list []T, n int) []T {
	if cap(list) < n {
		return make([]T, n)
	}
	return list[:n]
}

// zeroed is a list of n zeros, in the place of another if there is room.
func zeroed[T any](list []T, n int) []T {
	list = sized(list, n)
	clear(list)
	return list
}

// part makes the chain's graph the subgraph of the given nodes, renumbered from 0. The nodes must be
// ascending. Lists above and down may be changed, needs is kept for sorted.
func (c *chain) part(g *graph, nodes []int32) {
	n, links := len(nodes), 0
	if cap(g.place) < len(g.value) {
		g.place = make([]int32, len(g.value))
	}
	for at, i := range nodes {
		g.place[i] = int32(at) + 1
		links += len(g.needs[i])
	}
	c.value, c.cost, c.needs = sized(c.value, n), sized(c.cost, n), sized(c.needs, n)
	c.above, c.down = sized(c.above, n), sized(c.down, n)
	c.held = sized(c.held, 6*links)[:0] // three lists, and room for lists put together
	keep := func(list []int32) []int32 {
		start := len(c.held)
		for _, j := range list {
			if at := g.place[j]; at > 0 {
				c.held = append(c.held, at-1)
			}
		}
		return c.held[start:len(c.held):len(c.held)]
	}
	for at, i := range nodes {
		c.value[at], c.cost[at] = g.value[i], g.cost[i]
		c.needs[at] = keep(g.needs[i])
		c.above[at], c.down[at] = c.copied(c.needs[at]), keep(g.neededBy[i])
	}
	for _, i := range nodes {
		g.place[i] = 0
	}
}

// copied copies lists one after another into one, in room held for it while there is any.
func (c *chain) copied(lists ...[]int32) []int32 {
	all := 0
	for _, list := range lists {
		all += len(list)
	}
	start := len(c.held)
	if cap(c.held)-start < all {
		return slices.Concat(lists...)
	}
	for _, list := range lists {
		c.held = append(c.held, list...)
	}
	return c.held[start:len(c.held):len(c.held)]
}

// solve places all the given nodes.
func (c *chain) solve(nodes []int32) {
	todo := [][]int32{nodes}
	for len(todo) > 0 {
		part := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		core := c.reduce(part)
		if len(core) == 0 {
			continue
		}
		if parts := c.components(core); len(parts) > 1 {
			todo = append(todo, parts...)
			continue
		}
		first, last := c.split(core)
		if len(first) == 0 || len(last) == 0 {
			c.placeAll(core)
			continue
		}
		todo = append(todo, first, last)
	}
}

// reduce joins or places every node whose position is forced, and returns the rest.
func (c *chain) reduce(part []int32) []int32 {
	c.low, c.high = c.low[:0], c.high[:0]
	for _, i := range part {
		c.state[i] = waiting
	}
	for _, i := range part {
		if c.state[i] == waiting && c.merged[i] == i {
			c.offer(i)
		}
	}
	for c.lowest() || c.highest() {
	}
	var core []int32
	for _, i := range part {
		if c.state[i] == waiting && c.merged[i] == i {
			core = append(core, i)
		}
	}
	for _, i := range core {
		c.state[i] = outside
	}
	return core
}

// offer puts a node into both heaps with its present value per cost.
func (c *chain) offer(i int32) {
	c.version[i]++
	w := c.joined[i].worth()
	if math.IsNaN(w) {
		if !c.settleEmpty(i) {
			c.low.push(entry{math.Inf(1), i, c.version[i]})
		}
		return
	}
	c.low.push(entry{w, i, c.version[i]})
	c.high.push(entry{-w, i, c.version[i]})
}

// settleEmpty joins a node without cost and value to the only node that needs it, or to the only
// node it needs.
func (c *chain) settleEmpty(i int32) bool {
	c.down[i] = c.live(i, c.down[i])
	c.above[i] = c.live(i, c.above[i])
	switch {
	case len(c.down[i]) == 1:
		c.join(i, c.down[i][0], c.down[i][0])
	case len(c.above[i]) == 1:
		c.join(c.above[i][0], i, c.above[i][0])
	case len(c.down[i]) == 0:
		c.place(i, math.Inf(-1))
	case len(c.above[i]) == 0:
		c.place(i, math.Inf(1))
	default:
		return false
	}
	return true
}

// lowest joins or places the node of lowest value per cost, and says whether it could.
func (c *chain) lowest() bool {
	e, ok := c.low.top(c)
	if !ok {
		return false
	}
	c.down[e.of] = c.single(e.of, c.down[e.of], c.above)
	switch down := c.down[e.of]; len(down) {
	case 0:
		c.place(e.of, c.joined[e.of].worth())
	case 1:
		c.join(e.of, down[0], down[0])
	default:
		return false
	}
	return true
}

// highest joins or places the node of highest value per cost, and says whether it could.
func (c *chain) highest() bool {
	e, ok := c.high.top(c)
	if !ok {
		return false
	}
	c.above[e.of] = c.single(e.of, c.above[e.of], c.down)
	switch above := c.above[e.of]; len(above) {
	case 0:
		c.place(e.of, c.joined[e.of].worth())
	case 1:
		c.join(above[0], e.of, above[0])
	default:
		return false
	}
	return true
}

// find returns the node that represents the row of node i.
func (c *chain) find(i int32) int32 {
	for c.merged[i] != i {
		c.merged[i] = c.merged[c.merged[i]]
		i = c.merged[i]
	}
	return i
}

// live tidies a list of neighbours: no duplicates, no placed nodes, not the node itself.
func (c *chain) live(i int32, list []int32) []int32 {
	c.stamp++
	out := list[:0]
	for _, j := range list {
		j = c.find(j)
		if j != i && c.state[j] == waiting && c.seen[j] != c.stamp {
			c.seen[j] = c.stamp
			out = append(out, j)
		}
	}
	return out
}

// mostLooked limits the search for neighbours that others imply. Our choice: the cut handles what
// the search misses.
const mostLooked = 32

// single is live without the neighbours that another neighbour implies, those from which a search
// back towards the node finds another neighbour.
func (c *chain) single(i int32, list []int32, back [][]int32) []int32 {
	list = c.live(i, list)
	if len(list) < 2 || len(list) > mostLooked {
		return list
	}
	c.few = c.few[:0]
	for _, j := range list {
		if !c.implied(j, list, back) {
			c.few = append(c.few, j)
		}
	}
	return list[:copy(list, c.few)]
}

// implied says whether a search back from neighbour j finds another of the list.
func (c *chain) implied(j int32, list []int32, back [][]int32) bool {
	c.stamp++
	mark := c.stamp
	c.way = append(c.way[:0], j)
	for at := 0; at < len(c.way) && at < mostLooked; at++ {
		for _, k := range back[c.way[at]] {
			k = c.find(k)
			if c.state[k] != waiting || c.seen[k] == mark || k == j {
				continue
			}
			c.seen[k] = mark
			for _, other := range list {
				if other == k {
					return true
				}
			}
			c.way = append(c.way, k)
		}
	}
	return false
}

// join puts two rows together; node as represents both.
func (c *chain) join(first, second, as int32) {
	other := first + second - as
	a, b := &c.joined[first], &c.joined[second]
	row := run{value: a.value + b.value, cost: a.cost + b.cost, head: a.head, tail: b.tail}
	c.next[a.tail] = b.head
	c.joined[other], c.joined[as] = run{}, row
	c.merged[other] = as
	c.above[as], c.above[other] = c.longer(c.above[as], c.above[other]), nil
	c.down[as], c.down[other] = c.longer(c.down[as], c.down[other]), nil
	c.offer(as)
}

// longer appends the shorter list to the longer.
func (c *chain) longer(a, b []int32) []int32 {
	if len(a) < len(b) {
		a, b = b, a
	}
	if len(b) == 0 {
		return a
	}
	if cap(a)-len(a) >= len(b) || len(a) > mostLooked {
		return append(a, b...)
	}
	return c.copied(a, b)
}

// place puts a row into the result.
func (c *chain) place(i int32, rank float64) {
	c.state[i] = done
	c.joined[i].rank = rank
	c.placed = append(c.placed, c.joined[i])
}

// components splits a core into parts without links between them.
func (c *chain) components(core []int32) [][]int32 {
	c.wait(core, waiting)
	defer c.wait(core, outside)
	c.stamp++
	mark := c.stamp
	var parts [][]int32
	for _, i := range core {
		if c.seen[i] == mark {
			continue
		}
		part := []int32{i}
		c.seen[i] = mark
		for at := 0; at < len(part); at++ {
			for _, list := range [2][]int32{c.above[part[at]], c.down[part[at]]} {
				for _, j := range list {
					if j = c.find(j); c.state[j] == waiting && c.seen[j] != mark {
						c.seen[j] = mark
						part = append(part, j)
					}
				}
			}
		}
		slices.Sort(part)
		parts = append(parts, part)
	}
	return parts
}

func (c *chain) wait(part []int32, s state) {
	for _, i := range part {
		c.state[i] = s
	}
}

// split cuts a core at its mean value per cost. The first part has the higher value per cost and
// contains everything it needs.
func (c *chain) split(core []int32) (first, last []int32) {
	c.wait(core, waiting)
	defer c.wait(core, outside)
	place := make(map[int32]int32, len(core))
	var value, cost float64
	for at, i := range core {
		place[i] = int32(at)
		value, cost = value+c.joined[i].value, cost+c.joined[i].cost
	}
	if cost == 0 {
		return nil, nil
	}
	mean := value / cost
	gain, needs := make([]float64, len(core)), make([][]int32, len(core))
	var all float64
	for at, i := range core {
		gain[at] = c.joined[i].value - mean*c.joined[i].cost
		all += math.Abs(gain[at])
		c.above[i] = c.live(i, c.above[i])
		for _, j := range c.above[i] {
			needs[at] = append(needs[at], place[j])
		}
	}
	var cut closure
	cut.links(needs)
	in := cut.best(slices.Clone(gain))
	var more float64
	for at, i := range core {
		if in[at] {
			first = append(first, i)
			more += gain[at]
		} else {
			last = append(last, i)
		}
	}
	if more <= rounding*all {
		return nil, nil
	}
	return first, last
}

// rounding is the share of the sums below which a gain counts as rounding. Our choice: a thousand
// times the possible error of a sum of thousands of numbers.
const rounding = 1e-11

// placeAll makes one piece of a core that no cut improves. Of the rows that may come next, the one
// of highest value per cost goes first.
func (c *chain) placeAll(core []int32) {
	c.wait(core, waiting)
	open, down := make(map[int32]int, len(core)), make(map[int32][]int32, len(core))
	for _, i := range core { // from one list only: the opposite list may lack implied links
		c.above[i] = c.live(i, c.above[i])
		open[i] = len(c.above[i])
		for _, j := range c.above[i] {
			down[j] = append(down[j], i)
		}
	}
	var free heap
	offer := func(i int32) {
		w := c.joined[i].worth()
		if math.IsNaN(w) {
			w = math.Inf(1)
		}
		free.push(entry{-w, i, 0})
	}
	for _, i := range core {
		if open[i] == 0 {
			offer(i)
		}
	}
	var all run
	for at := 0; len(free) > 0; at++ {
		i := free.pop().of
		row := c.joined[i]
		if at == 0 {
			all = row
		} else {
			c.next[all.tail] = row.head
			all.value, all.cost, all.tail = all.value+row.value, all.cost+row.cost, row.tail
		}
		for _, j := range down[i] {
			if open[j]--; open[j] == 0 {
				offer(j)
			}
		}
	}
	c.wait(core, done)
	all.rank = all.worth()
	if math.IsNaN(all.rank) {
		all.rank = math.Inf(1)
	}
	c.placed = append(c.placed, all)
}

package knapsack

import (
	"math"
	"math/bits"
	"slices"

	"driftreach/geo/disjoint"
)

// apart keeps the decompositions of connected parts. The branches of a search differ in a few
// nodes, so most of their parts have been divided into pieces before.
type apart struct {
	known map[uint64]*part
	kept  int // nodes of all known parts

	// Scratch space.
	root  disjoint.Sets // by node; -1 outside of the list
	at    []int32       // by place in the list: the part it is in
	ends  []int32       // by part: where its nodes end
	nodes []int32       // part by part, ascending in each
	lone  []bool        // by node: a part of its own
	alone []piece       // the parts of one node
	lists [][]piece     // alone, and then those of each other part
	next  []int         // by list: pieces already taken
	queue heap
	out   []piece
}

// part is a connected part and its decomposition.
type part struct {
	nodes  []int32
	value  []float64
	pieces []piece
}

// mostKept limits the nodes of known parts. Our choice: some megabytes.
const mostKept = 40_000

// apart returns the same as pieces, and knows parts again that have the same nodes and values as
// earlier ones. The graphs that share it must differ in values alone. The answer is valid until the next
// call. Ranked are these nodes, and maybe others, as ranked returns them: most parts are of one node.
func (g *graph) apart(nodes, ranked []int32) []piece {
	if g.parts == nil {
		g.parts = &apart{known: map[uint64]*part{}}
	}
	a := g.parts
	a.divide(g, nodes)
	a.lone, a.alone, a.lists = sized(a.lone, len(g.value)), a.alone[:0], append(a.lists[:0], nil)
	start, lone := int32(0), 0
	for _, end := range a.ends {
		if of := a.nodes[start:end:end]; len(of) == 1 {
			a.lone[of[0]] = true
			lone++
		} else {
			a.lists = append(a.lists, a.piecesOf(g, of))
		}
		start = end
	}
	for at, n := range ranked {
		if a.lone[n] {
			a.lone[n] = false
			a.alone = append(a.alone, piece{value: g.value[n], cost: g.cost[n], rank: g.rank(n), nodes: ranked[at : at+1 : at+1]})
		}
	}
	if len(a.alone) < lone {
		panic("knapsack: a node has no rank")
	}
	a.lists[0] = a.alone
	return a.merge(a.lists)
}

// ranked lists nodes by their rank as a piece, the highest first, then ascending.
func (g *graph) ranked(nodes []int32) []int32 {
	type ranked struct {
		rank float64
		node int32
	}
	list, out := make([]ranked, len(nodes)), make([]int32, len(nodes))
	for i, n := range nodes {
		list[i] = ranked{g.rank(n), n}
	}
	slices.SortFunc(list, func(a, b ranked) int { return largestFirst(a.rank, b.rank, a.node, b.node) })
	for i, one := range list {
		out[i] = one.node
	}
	return out
}

// largestFirst compares two numbers, neither NaN, for a descending order, and equal ones by what they are
// of, ascending.
func largestFirst(a, b float64, ofA, ofB int32) int {
	switch {
	case a > b:
		return -1
	case a < b:
		return 1
	}
	return int(ofA - ofB)
}

// rank is the rank of one node as a piece.
func (g *graph) rank(n int32) float64 {
	one := run{value: g.value[n], cost: g.cost[n]}
	if rank := one.worth(); !math.IsNaN(rank) {
		return rank
	}
	return math.Inf(-1)
}

// divide lists the nodes by connected part. The parts go by their first nodes.
func (a *apart) divide(g *graph, nodes []int32) {
	a.root = sized(a.root, len(g.value))
	for i := range a.root {
		a.root[i] = -1
	}
	for _, n := range nodes {
		a.root[n] = n
		for _, need := range g.needs[n] { // these come before n
			if a.root[need] >= 0 {
				a.root.Union(need, n)
			}
		}
	}
	a.at, a.ends, a.nodes = sized(a.at, len(g.value)), a.ends[:0], sized(a.nodes, len(nodes))
	for _, n := range nodes { // a root comes before the rest of its part
		r := a.root.Find(n)
		if r == n {
			a.at[n] = int32(len(a.ends))
			a.ends = append(a.ends, 0)
		}
		a.at[n] = a.at[r]
		a.ends[a.at[n]]++
	}
	var all int32
	for p, size := range a.ends {
		a.ends[p] = all
		all += size
	}
	for _, n := range nodes {
		p := a.at[n]
		a.nodes[a.ends[p]] = n
		a.ends[p]++
	}
}

// piecesOf returns the decomposition of one part.
func (a *apart) piecesOf(g *graph, nodes []int32) []piece {
	var key uint64
	for _, n := range nodes {
		key += mixed(uint64(n), math.Float64bits(g.value[n]))
	}
	if is := a.known[key]; is != nil && is.same(g, nodes) {
		return is.pieces
	}
	if a.kept += len(nodes); a.kept > mostKept {
		clear(a.known)
		a.kept = len(nodes)
	}
	is := &part{nodes: slices.Clone(nodes), value: make([]float64, len(nodes)), pieces: g.pieces(nodes)}
	for i, n := range nodes {
		is.value[i] = g.value[n]
	}
	a.known[key] = is
	return is.pieces
}

// same says whether a part has these nodes and their values.
func (p *part) same(g *graph, nodes []int32) bool {
	if !slices.Equal(p.nodes, nodes) {
		return false
	}
	for i, n := range nodes {
		if p.value[i] != g.value[n] {
			return false
		}
	}
	return true
}

// mixed makes one number of two, such that sums of them rarely meet.
func mixed(a, b uint64) uint64 {
	high, low := bits.Mul64(a*0x9e3779b97f4a7c15+0x632be59bd9b4e019, b^0xd1b54a32d192ed03)
	return high ^ low
}

// merge puts the pieces of all parts together as sorted does: the highest value per cost of those
// that may come next.
func (a *apart) merge(lists [][]piece) []piece {
	all := 0
	a.queue, a.next = a.queue[:0], zeroed(a.next, len(lists))
	offer := func(p int32) {
		if one := lists[p][a.next[p]:]; len(one) > 0 {
			a.queue.push(entry{-one[0].rank, one[0].nodes[0], p})
		}
	}
	for p, list := range lists {
		all += len(list)
		offer(int32(p))
	}
	out := slices.Grow(a.out[:0], all)
	for len(a.queue) > 0 {
		p := a.queue.pop().version
		out = append(out, lists[p][a.next[p]])
		a.next[p]++
		offer(p)
	}
	a.out = out
	return out
}

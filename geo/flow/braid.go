package flow

import (
	"fmt"
	"math/bits"
	"slices"
)

// maxBraidWork limits the steps for exact totals inside one braid: a few seconds. Our choice.
const maxBraidWork = 4e9

// tableFrom is the number of nodes in a braid from which bits are summed a byte at a time, by
// tables. Our choice, measured.
const tableFrom = 1024

// braid is the working memory for one block with rings. Local node numbers rise downstream.
type braid struct {
	local  []int32 // by node of the network; valid only for nodes of the present block
	nodes  []int32
	from   []int32 // local ends of each edge, edges upstream first
	to     []int32
	inward []load // by local node: sum over the block's edges that enter it
	beyond []load // by local node: load that enters it from outside the block
	count  []int32
	bits   []uint64
	sum    []load
	table  [8][256]load
}

// number gives the nodes of a block local numbers and fills in its edges. It sorts the edges.
func (s *braid) number(t *totaller, edges []int32) {
	slices.Sort(edges)
	s.nodes = s.nodes[:0]
	for _, e := range edges {
		s.local[t.n.Edges[e].From], s.local[t.n.Edges[e].To] = -1, -1
	}
	// edges are sorted by the depth of their upstream node, so local numbers are too
	for _, e := range edges {
		s.add(t.n.Edges[e].From)
	}
	for _, e := range edges {
		s.add(t.n.Edges[e].To)
	}
	size := len(s.nodes)
	s.from, s.to = resize(s.from, len(edges)), resize(s.to, len(edges))
	s.inward, s.beyond, s.sum = resize(s.inward, size), resize(s.beyond, size), resize(s.sum, size)
	s.count, s.bits = resize(s.count, size), resize(s.bits, size)
	for i, e := range edges {
		s.from[i], s.to[i] = s.local[t.n.Edges[e].From], s.local[t.n.Edges[e].To]
		s.inward[s.to[i]] = s.inward[s.to[i]].plus(t.own[e])
		s.count[s.to[i]]++
	}
	for i, v := range s.nodes {
		s.beyond[i] = t.up[v]
	}
}

// add gives a node the next local number unless it has one.
func (s *braid) add(v int32) {
	if s.local[v] < 0 {
		s.local[v] = int32(len(s.nodes))
		s.nodes = append(s.nodes, v)
	}
}

// resize returns a slice of n zeros, reusing the old memory where it fits.
func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// intoTop returns the load that reaches the top of a block from the block and everything below it.
func (s *braid) intoTop(t *totaller, edges []int32, top int32) load {
	s.number(t, edges)
	goal := s.local[top]
	s.bits[goal] = 1
	for i := len(s.from) - 1; i >= 0; i-- {
		s.bits[s.from[i]] |= s.bits[s.to[i]]
	}
	sum := s.inward[goal]
	for v := range s.nodes {
		if s.bits[v] != 0 && int32(v) != goal {
			sum = sum.plus(s.inward[v]).plus(s.beyond[v])
		}
	}
	return sum
}

// spread sets down at every node of block k except its top.
func (s *braid) spread(t *totaller, k int, edges []int32, top int32) {
	s.number(t, edges)
	goal := s.local[top]
	s.beyond[goal] = load{}
	if slices.Contains(s.from, goal) {
		s.beyond[goal] = t.beyondTop(k)
	}
	if work := float64(len(s.nodes)) / 64 * float64(len(edges)); work > t.b.braidWork {
		s.bound(t, edges)
		t.reportBound(edges)
	} else {
		s.exact(t, edges)
	}
	for i, v := range s.nodes {
		if v != top {
			t.down[v] = s.sum[i]
		}
	}
}

// exact fills in sum at every node. Bits record, for 64 nodes at a time, which of them are upstream
// of each node. Where only one edge enters a node, its sum is the sum at that edge's upstream node
// plus the edge.
func (s *braid) exact(t *totaller, edges []int32) {
	size := len(s.nodes)
	edge := 0
	for base := 0; base < size; base += 64 {
		clear(s.bits)
		last := min(base+64, size)
		for v := base; v < last; v++ {
			s.bits[v] = 1 << (v - base)
		}
		for edge < len(edges) && int(s.from[edge]) < base {
			edge++
		}
		for i := edge; i < len(edges); i++ {
			s.bits[s.to[i]] |= s.bits[s.from[i]]
		}
		s.addChunk(base, last)
	}
	for i, e := range edges {
		if f, v := s.from[i], s.to[i]; s.count[v] == 1 {
			s.sum[v] = s.sum[f].plus(s.beyond[f]).plus(t.own[e])
		}
	}
}

// addChunk adds the loads of the nodes base to last to every confluence downstream of them.
func (s *braid) addChunk(base, last int) {
	weight := func(i int) load {
		if base+i < last {
			return s.inward[base+i].plus(s.beyond[base+i])
		}
		return load{}
	}
	tables := len(s.nodes) >= tableFrom
	if tables {
		s.fillTables(weight)
	}
	for v := base; v < len(s.nodes); v++ {
		if s.count[v] < 2 || s.bits[v] == 0 {
			continue
		}
		set, sum := s.bits[v], s.sum[v]
		if v < last {
			// of the node itself count only the edges that enter it, not the load from outside
			set &^= 1 << (v - base)
			sum = sum.plus(s.inward[v])
		}
		if tables {
			for i := 0; set != 0; i++ {
				sum = sum.plus(s.table[i][set&255])
				set >>= 8
			}
		} else {
			for ; set != 0; set &= set - 1 {
				sum = sum.plus(weight(bits.TrailingZeros64(set)))
			}
		}
		s.sum[v] = sum
	}
}

// fillTables fills in, for each of the eight bytes, the sum of weights for every byte value.
func (s *braid) fillTables(weight func(int) load) {
	for i := range s.table {
		for x := 1; x < 256; x++ {
			s.table[i][x] = s.table[i][x&(x-1)].plus(weight(8*i + bits.TrailingZeros8(uint8(x))))
		}
	}
}

// bound fills in sum at every node with a lower bound: the edges that enter it plus the largest
// load above any one of them.
func (s *braid) bound(t *totaller, edges []int32) {
	above := make([]load, len(s.nodes))
	for i := range edges {
		f, v := s.from[i], s.to[i]
		// edges are sorted by depth, so the sum at f is complete
		s.sum[f] = s.inward[f].plus(above[f])
		through := s.sum[f].plus(s.beyond[f])
		above[v] = load{max(above[v].km, through.km), max(above[v].area, through.area)}
	}
	for v := range s.nodes {
		s.sum[v] = s.inward[v].plus(above[v])
	}
}

// reportBound reports a braid whose totals are lower bounds.
func (t *totaller) reportBound(edges []int32) {
	first := t.n.Edges[edges[0]]
	t.b.report(Trouble{
		Kind: BraidTooLarge, Lines: []int32{t.b.arcs[t.b.edgeArc[edges[0]]].rank}, At: t.n.Nodes[first.From].At,
		Message: fmt.Sprintf("one braid has %d stretches", len(edges)),
		Repair:  "upstream totals inside it are lower bounds; below its end they are exact again",
	})
}

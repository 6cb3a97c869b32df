package flow

// blocks are the biconnected components of the network, ignoring direction: maximal sets of edges
// in which any two edges lie on a common ring. A block is a single edge where the network is a
// tree, and a whole braid where it is not. Two blocks share at most one node. Each block hangs from
// one of its nodes, its top, towards the root of its component. Every block is listed after those
// that hang below it.
type blocks struct {
	start []int32 // edges of block k: edges[start[k]:start[k+1]]
	edges []int32
	top   []int32
}

// of returns the edges of a block.
func (b *blocks) of(k int) []int32 { return b.edges[b.start[k]:b.start[k+1]] }

// blockSearch finds blocks by the algorithm of Hopcroft and Tarjan (Algorithm 447, CACM 16(6),
// 1973), without recursion.
type blockSearch struct {
	n           *Network
	number, low []int32 // order of first visit from 1, and the lowest number reached
	tried       []int32 // edges tried at each node
	path        []int32 // nodes from the root
	via         []int32 // edge that led to each node of the path
	stack       []int32 // edges not yet in a block
	visits      int32
	blocks
}

// findBlocks returns the blocks of the components for which braided is true, rooted
// at the end of each component's last edge. Linear.
func (n *Network) findBlocks(braided func(component int32) bool) *blocks {
	s := &blockSearch{n: n}
	s.number = make([]int32, len(n.Nodes))
	s.low = make([]int32, len(n.Nodes))
	s.tried = make([]int32, len(n.Nodes))
	s.start = []int32{0}
	for i := len(n.Edges) - 1; i >= 0; i-- {
		if root := n.Edges[i].To; s.number[root] == 0 && braided(n.Edges[i].Component) {
			s.search(root)
		}
	}
	return &s.blocks
}

// search finds the blocks of one component.
func (s *blockSearch) search(root int32) {
	s.visit(root, -1)
	for len(s.path) > 0 {
		v := s.path[len(s.path)-1]
		e, ok := s.nextEdge(v)
		if !ok {
			s.leave()
			continue
		}
		if e == s.via[len(s.via)-1] {
			continue
		}
		w := s.n.Edges[e].From + s.n.Edges[e].To - v
		switch {
		case s.number[w] == 0:
			s.stack = append(s.stack, e)
			s.visit(w, e)
		case s.number[w] < s.number[v]:
			s.stack = append(s.stack, e)
			s.low[v] = min(s.low[v], s.number[w])
		}
	}
}

// visit puts a node on the path.
func (s *blockSearch) visit(v, via int32) {
	s.visits++
	s.number[v], s.low[v] = s.visits, s.visits
	s.path = append(s.path, v)
	s.via = append(s.via, via)
}

// nextEdge returns the next edge to try at a node.
func (s *blockSearch) nextEdge(v int32) (int32, bool) {
	in, out := s.n.In(v), s.n.Out(v)
	i := int(s.tried[v])
	s.tried[v]++
	switch {
	case i < len(in):
		return in[i], true
	case i < len(in)+len(out):
		return out[i-len(in)], true
	}
	return 0, false
}

// leave takes the last node off the path. It completes a block when nothing at or below the node
// leads above the node before it.
func (s *blockSearch) leave() {
	last := len(s.path) - 1
	v, e := s.path[last], s.via[last]
	s.path, s.via = s.path[:last], s.via[:last]
	if last == 0 {
		return
	}
	u := s.path[last-1]
	s.low[u] = min(s.low[u], s.low[v])
	if s.low[v] < s.number[u] {
		return
	}
	from := len(s.stack)
	for s.stack[from-1] != e {
		from--
	}
	from--
	s.edges = append(s.edges, s.stack[from:]...)
	s.stack = s.stack[:from]
	s.start = append(s.start, int32(len(s.edges)))
	s.top = append(s.top, u)
}

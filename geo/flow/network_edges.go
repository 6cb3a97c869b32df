package flow

import (
	"driftreach/geo"
	"driftreach/geo/disjoint"
)

// network turns arcs without cycles into edges in topological order, with their
// adjacency and components.
func (b *builder) network() *Network {
	n := &Network{Nodes: b.nodes, lineLength: make([]geo.Meters, b.lines.Len())}
	order := b.topological()
	b.edgeArc = order
	n.Edges = make([]Edge, len(order))
	for k, i := range order {
		n.Edges[k] = b.edge(&b.arcs[i])
	}
	for r, l := range b.length {
		if l == l {
			n.lineLength[b.record[r]] = geo.Meters(l)
		}
	}
	b.numberComponents(n, order)
	n.index(b, order)
	return n
}

// edge returns the edge of an arc.
func (b *builder) edge(a *arc) Edge {
	span, length := a.end-a.start, b.recordedLength(a.rank)
	if whole := b.length[a.rank]; span < whole {
		length *= geo.Meters(span / whole)
	}
	return Edge{
		Line: b.record[a.rank], Start: geo.Meters(a.start), End: geo.Meters(a.end), Flipped: a.flipped,
		Barrier: a.last && b.line(a.rank).Barrier, From: a.from, To: a.to, Length: length, Share: 1,
	}
}

// topological returns the arcs sorted by the largest number of arcs above them, then in canonical
// order. Linear.
func (b *builder) topological() []int32 {
	in, _ := b.arcDegrees()
	out := b.outOf()
	level := make([]int32, len(b.nodes))
	queue := make([]int32, 0, len(b.nodes))
	for v := range in {
		if in[v] == 0 {
			queue = append(queue, int32(v))
		}
	}
	var deepest int32
	for head := 0; head < len(queue); head++ {
		v := queue[head]
		for _, i := range out.at(v) {
			to := b.arcs[i].to
			level[to] = max(level[to], level[v]+1)
			deepest = max(deepest, level[to])
			if in[to]--; in[to] == 0 {
				queue = append(queue, to)
			}
		}
	}
	if len(queue) != len(b.nodes) {
		panic("flow: a cycle was left")
	}
	fill := make([]int32, deepest+2)
	for i := range b.arcs {
		fill[level[b.arcs[i].from]+1]++
	}
	for l := range fill[1:] {
		fill[l+1] += fill[l]
	}
	order := make([]int32, len(b.arcs))
	for i := range b.arcs {
		l := level[b.arcs[i].from]
		order[fill[l]] = int32(i)
		fill[l]++
	}
	return order
}

// numberComponents numbers the connected parts by their first line in canonical
// order.
func (b *builder) numberComponents(n *Network, order []int32) {
	parts := disjoint.NewSets(len(b.nodes))
	for i := range b.arcs {
		parts.Union(b.arcs[i].from, b.arcs[i].to)
	}
	number := make([]int32, len(b.nodes))
	for i := range b.arcs {
		if root := parts.Find(b.arcs[i].from); number[root] == 0 {
			n.Components++
			number[root] = int32(n.Components)
		}
	}
	for k, i := range order {
		n.Edges[k].Component = number[parts.Find(b.arcs[i].from)] - 1
	}
}

// index fills in the lists of edges by node and by line.
func (n *Network) index(b *builder, order []int32) {
	n.outStart, n.outEdge = disjoint.Group(len(n.Nodes), len(n.Edges), func(e int) int32 { return n.Edges[e].From })
	n.inStart, n.inEdge = disjoint.Group(len(n.Nodes), len(n.Edges), func(e int) int32 { return n.Edges[e].To })
	place := make([]int32, len(order))
	for k, i := range order {
		place[i] = int32(k)
	}
	n.lineStart, n.lineEdge = disjoint.Group(b.lines.Len(), len(n.Edges), func(i int) int32 { return b.record[b.arcs[i].rank] })
	for k, i := range n.lineEdge {
		n.lineEdge[k] = place[i]
	}
}

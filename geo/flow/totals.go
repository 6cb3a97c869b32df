package flow

import (
	"fmt"
	"math"

	"driftreach/geo"
)

// load is the quantity summed over upstream lines: length of stream, area of catchment.
type load struct {
	km   geo.Kilometers
	area geo.SquareKilometers
}

// plus returns the sum of two loads.
func (a load) plus(b load) load { return load{a.km + b.km, a.area + b.area} }

// totals sets the union totals of every edge: each upstream line once, even where the water divides
// and joins again.
//
// In a component without rings, every node's total is the sum over the edges that enter it. Any
// other component is divided into blocks. Load from beyond a node shared by two blocks enters the
// other block only through that node, so each block needs just one number per node for everything
// that hangs there. Single-edge blocks add up as in a tree. Inside a braid of n nodes and m edges
// the sets of upstream nodes are kept as bits, 64 at a time: m n/64 steps. Linear except in the
// size of the largest braid. A braid that would take more than maxBraidWork steps gets lower bounds
// inside, and the exact total again at its end.
func (n *Network) totals(b *builder) {
	own, known := n.ownLoads(b)
	rings := n.ringed()
	total := make([]load, len(n.Nodes))
	t := &totaller{n: n, b: b, own: own, down: make([]load, len(n.Nodes)), up: make([]load, len(n.Nodes))}
	t.run(func(component int32) bool { return rings[component] })
	for i := range n.Edges {
		e := &n.Edges[i]
		if rings[e.Component] {
			continue
		}
		total[e.To] = total[e.To].plus(total[e.From].plus(own[i]))
	}
	for i := range n.Edges {
		e := &n.Edges[i]
		above := total[e.From]
		if rings[e.Component] {
			above = t.down[e.From].plus(t.up[e.From])
		}
		sum := above.plus(own[i])
		e.UpstreamKm, e.Drainage = sum.km, sum.area
		if !known[e.Component] {
			e.Drainage = geo.SquareKilometers(math.NaN())
		}
	}
}

// ownLoads returns each edge's own load, and for each component whether any of its lines has a
// catchment. It reports lines without a catchment where others have one.
func (n *Network) ownLoads(b *builder) (own []load, known []bool) {
	own, known = make([]load, len(n.Edges)), make([]bool, n.Components)
	for i := range n.Edges {
		e := &n.Edges[i]
		rank := b.arcs[b.edgeArc[i]].rank
		own[i].km = e.Length.Kilometers()
		if area := b.line(rank).Area; area >= 0 && !math.IsInf(float64(area), 0) {
			known[e.Component] = true
			own[i].area = area * geo.SquareKilometers(b.partOfLine(int32(i)))
		}
	}
	n.reportMissingAreas(b, known)
	return own, known
}

// partOfLine returns the share of its line's length that an edge covers.
func (b *builder) partOfLine(edge int32) float64 {
	a := &b.arcs[b.edgeArc[edge]]
	if whole := b.length[a.rank]; a.end-a.start < whole {
		return (a.end - a.start) / whole
	}
	return 1
}

// reportMissingAreas reports, once for each component, the lines without a catchment where others
// have one.
func (n *Network) reportMissingAreas(b *builder, known []bool) {
	missing := make([][]int32, n.Components)
	for i := range b.arcs {
		a := &b.arcs[i]
		if a.first && !(b.line(a.rank).Area >= 0) {
			c := n.componentOfArc(b, a)
			if known[c] {
				missing[c] = append(missing[c], a.rank)
			}
		}
	}
	for _, ranks := range missing {
		if len(ranks) == 0 {
			continue
		}
		b.report(Trouble{
			Kind: AreaMissing, Lines: ranks, At: b.placeOf(ranks[0]),
			Message: fmt.Sprintf("%d lines have no catchment, others connected to them have", len(ranks)),
			Repair:  "counted as 0: drainage areas below them are lower bounds",
		})
	}
}

// componentOfArc returns the component of an arc.
func (n *Network) componentOfArc(b *builder, a *arc) int32 {
	return n.Edges[n.EdgesOf(b.record[a.rank])[0]].Component
}

// ringed says for each component whether it has more edges than a tree.
func (n *Network) ringed() []bool {
	excess := make([]int, n.Components)
	seen := make([]bool, len(n.Nodes))
	for i := range n.Edges {
		e := &n.Edges[i]
		excess[e.Component]++
		for _, v := range [2]int32{e.From, e.To} {
			if !seen[v] {
				seen[v] = true
				excess[e.Component]--
			}
		}
	}
	rings := make([]bool, n.Components)
	for c, x := range excess {
		// a tree has one node more than edges
		rings[c] = x > -1
	}
	return rings
}

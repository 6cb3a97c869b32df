package flow

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// makeArcs makes the nodes and the arcs between them, in canonical order. Names, sequence or
// digitising give an arc its direction.
func (b *builder) makeArcs() {
	nodeOf := make([]int32, len(b.ends))
	b.nameNodes(nodeOf)
	flipped := b.checkNames(nodeOf)
	placeNode := b.placeNodes(nodeOf)
	if b.options.Upstream {
		for r := range flipped {
			flipped[r] = flipped[r] || !b.named[r] && math.IsNaN(b.line(int32(r)).Sequence)
		}
	}
	b.flipBySequence(nodeOf, placeNode, flipped)
	b.arcs = make([]arc, 0, b.lines.Len()+len(b.cuts))
	next := 0
	for r := range b.lines.Len() {
		rank := int32(r)
		var cuts []cut
		for ; next < len(b.cuts) && b.cuts[next].rank == rank; next++ {
			cuts = append(cuts, b.cuts[next])
		}
		if !b.kept(rank) {
			continue
		}
		if b.length[r] == 0 && !b.named[r] {
			b.dropEmpty(rank)
			continue
		}
		b.addArcs(rank, nodeOf, placeNode, cuts, flipped[r])
	}
}

// dropEmpty reports and drops a line of length 0, unless names decide its topology.
func (b *builder) dropEmpty(rank int32) {
	var at orb.Point
	if p := b.line(rank).Path; len(p) > 0 {
		at = normal(p[0])
	}
	b.report(Trouble{
		Kind: ZeroLength, Lines: []int32{rank}, At: at,
		Message: fmt.Sprintf("line %s has no length", b.name(rank)),
		Repair:  "left out of the network",
	})
}

// placeNodes makes a node at each end place of the lines whose topology names do not decide, and
// fills in the nodes at those ends. It returns the node of each place, -1 for none.
func (b *builder) placeNodes(nodeOf []int32) []int32 {
	placeNode := make([]int32, len(b.points))
	for i := range placeNode {
		placeNode[i] = -1
	}
	for e, p := range b.ends {
		if p < 0 || b.named[e/2] {
			continue
		}
		root := b.places.Find(p)
		if placeNode[root] < 0 {
			placeNode[root] = int32(len(b.nodes))
			b.nodes = append(b.nodes, Node{At: b.points[root]})
		}
		nodeOf[e] = placeNode[root]
	}
	return placeNode
}

// addArcs adds the arcs of one line between its ends and cuts.
func (b *builder) addArcs(rank int32, nodeOf, placeNode []int32, cuts []cut, flipped bool) {
	l := b.line(rank)
	a := arc{rank: rank, flipped: flipped, digitised: !b.named[rank] && !(l.Sequence == l.Sequence)}
	from, start := nodeOf[2*rank], 0.0
	// names follow the flow, positions the digitising
	to := nodeOf[2*rank+1]
	if b.named[rank] && flipped {
		from, to = to, from
	}
	first := len(b.arcs)
	for _, j := range b.joints(rank, from, to, placeNode, cuts) {
		b.pushArc(a, from, j.node, start, j.measure)
		from, start = j.node, j.measure
	}
	b.pushArc(a, from, to, start, b.length[rank])
	low, high := first, len(b.arcs)-1
	if flipped {
		low, high = high, low
	}
	b.arcs[low].first = true
	b.arcs[high].last = true
}

// pushArc adds an arc between two nodes, given in the order of digitising.
func (b *builder) pushArc(a arc, from, to int32, start, end float64) {
	a.from, a.to, a.start, a.end = from, to, start, end
	if a.flipped {
		a.from, a.to = to, from
	}
	b.arcs = append(b.arcs, a)
}

// turnRound reverses an arc.
func (a *arc) turnRound() {
	a.from, a.to = a.to, a.from
	a.flipped = !a.flipped
}

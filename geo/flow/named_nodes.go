package flow

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// checkNames compares the positions of named ends. It marks a line digitised against its names as
// flipped, and reports ends that are still apart.
func (b *builder) checkNames(nodeOf []int32) (flipped []bool) {
	flipped = make([]bool, b.lines.Len())
	at := b.endsOfDoubtfulNodes(nodeOf)
	for i := range b.nodes {
		if math.IsNaN(b.nodes[i].At[0]) {
			b.nodes[i].At = orb.Point{}
		}
	}
	if len(at) == 0 {
		return flipped
	}
	for _, node := range sortedKeys(at) {
		b.nodes[node].At = b.busiest(at[node])
	}
	shared := b.sharedNodes(nodeOf)
	for r := range b.named {
		if b.named[r] && b.kept(int32(r)) && b.ends[2*r] >= 0 {
			flipped[r] = b.againstNames(int32(r), nodeOf, shared)
		}
	}
	return flipped
}

// endsOfDoubtfulNodes returns the line ends at each named node where not all ends lie within the
// snap distance of the first.
func (b *builder) endsOfDoubtfulNodes(nodeOf []int32) map[int32][]int32 {
	at := map[int32][]int32{}
	for e, p := range b.ends {
		if p >= 0 && b.named[e/2] && b.apart(b.nodes[nodeOf[e]].At, b.points[p]) {
			at[nodeOf[e]] = nil
		}
	}
	if len(at) == 0 {
		return nil
	}
	for e, p := range b.ends {
		if p >= 0 && b.named[e/2] {
			if list, ok := at[nodeOf[e]]; ok {
				at[nodeOf[e]] = append(list, int32(e))
			}
		}
	}
	return at
}

// sharedNodes says for each node whether more than one line ends there. Where only one does, no
// other line confirms the node's position.
func (b *builder) sharedNodes(nodeOf []int32) []bool {
	shared, met := make([]bool, len(b.nodes)), make([]bool, len(b.nodes))
	for e, p := range b.ends {
		if p >= 0 && b.named[e/2] {
			shared[nodeOf[e]], met[nodeOf[e]] = met[nodeOf[e]], true
		}
	}
	return shared
}

// apart reports whether two positions are further apart than the snap distance.
func (b *builder) apart(p, q orb.Point) bool {
	return p != q && separation(p, q) > float64(b.options.Snap)
}

// busiest returns the position touched by most of the lines with the given ends, in either
// direction of digitising; of equals the position where most of the ends themselves lie, then the
// first. Quadratic in the number of ends, of which it looks at 64 at most.
func (b *builder) busiest(ends []int32) orb.Point {
	// no confluence has more; our choice
	const most = 64
	ends = ends[:min(len(ends), most)]
	best, votes := b.ends[ends[0]], 0
	for _, e := range ends {
		for _, p := range [2]int32{b.ends[e], b.ends[e^1]} {
			if n := b.votes(p, ends); n > votes {
				best, votes = p, n
			}
		}
	}
	return b.points[best]
}

// votes scores a position: first by how many of the lines have an end there, then by how many of
// the given ends lie there.
func (b *builder) votes(p int32, ends []int32) int {
	lines, here := 0, 0
	for _, e := range ends {
		near := !b.apart(b.points[p], b.points[b.ends[e]])
		lines += count(near || !b.apart(b.points[p], b.points[b.ends[e^1]]))
		here += count(near)
	}
	return lines*(len(ends)+1) + here
}

// againstNames reports whether a line was digitised against its node names. It also records that
// trouble, and ends that are apart from their node.
func (b *builder) againstNames(r int32, nodeOf []int32, shared []bool) bool {
	l := b.line(r)
	low, high := nodeOf[2*r+1], nodeOf[2*r]
	start, end := b.points[b.ends[2*r]], b.points[b.ends[2*r+1]]
	away := func(p orb.Point, node int32) float64 {
		if shared[node] {
			return separation(p, b.nodes[node].At)
		}
		return 0
	}
	asIs, swapped := away(start, high)+away(end, low), away(end, high)+away(start, low)
	if swapped < asIs && low != high && swapped <= 2*float64(b.options.Snap) {
		for node, p := range map[int32]orb.Point{high: end, low: start} {
			if !shared[node] {
				b.nodes[node].At = p
			}
		}
		b.report(Trouble{
			Kind: ReversedDirection, Lines: []int32{r}, At: end,
			Message: fmt.Sprintf("line %s is digitised from node %s to node %s", l.Name, nodeLabel(l.To), nodeLabel(l.From)),
			Repair:  "flows as its nodes are named",
		})
		return true
	}
	b.reportApart(r, high, start)
	b.reportApart(r, low, end)
	return false
}

// nodeLabel names a node in a message.
func nodeLabel(name string) string {
	if name == "" {
		return "(none)"
	}
	return name
}

// reportApart reports an end that is away from its named node.
func (b *builder) reportApart(r, node int32, end orb.Point) {
	if at := b.nodes[node].At; int(node) < len(b.nodeNames) && b.apart(at, end) {
		b.report(Trouble{
			Kind: EndsApart, Lines: []int32{r}, At: end,
			Message: fmt.Sprintf("line %s ends %.1f m from the other lines of node %s", b.name(r), separation(at, end), b.nodeNames[node]),
			Repair:  "the name was followed; the map shows a gap",
		})
	}
}

package flow

import (
	"fmt"
	"math"
	"slices"
)

// looseBranch returns the edge in which a stretch without branches begins that ends at an outlet, when
// it leaves another line there: a tributary drawn from its mouth up looks like this. It returns -1
// where something besides the digitising gives the direction of the stretch, or says that water parts
// there: a divergence of its first line, or a share of any line that leaves.
func (n *Network) looseBranch(b *builder, outlet int32) int32 {
	e := n.In(outlet)[0]
	for range maxChain {
		if !b.arcs[b.edgeArc[e]].digitised {
			return -1
		}
		from := n.Edges[e].From
		in, out := n.In(from), n.Out(from)
		switch {
		case len(out) > 1:
			if b.line(b.arcs[b.edgeArc[e]].rank).Divergence != NoDivergence || slices.ContainsFunc(b.ranksOf(out), func(r int32) bool { return !math.IsNaN(b.line(r).Share) }) {
				return -1
			}
			return e
		case len(in) != 1:
			return -1
		}
		e = in[0]
	}
	return -1
}

// branchWords says where a loose branch leaves, and what the recorded orders say of it.
func (n *Network) branchWords(b *builder, branch, outlet int32) string {
	from, beside := n.Edges[branch].From, int32(-1)
	for _, e := range n.Out(from) {
		if e != branch && beside < 0 {
			beside = e
		}
	}
	ranks := b.ranksOf([]int32{n.In(outlet)[0], branch, beside})
	text := fmt.Sprintf("water parts into lines %s and %s, and line %s ends where nothing goes on", b.name(ranks[1]), b.name(ranks[2]), b.name(ranks[0]))
	own, above := b.line(ranks[1]).Order, int32(0)
	for _, r := range b.ranksOf(n.In(from)) {
		above = max(above, b.line(r).Order)
	}
	if 0 < own && own < above {
		text += fmt.Sprintf("; the recorded order of line %s, %d, is below that of the line above, %d, as of a tributary drawn against the flow", b.name(ranks[1]), own, above)
	}
	return text
}

// withAllAgainst returns the components that were reported as digitised against the flow.
func (n *Network) withAllAgainst(b *builder) map[int32]bool {
	lines, against := map[int32]bool{}, map[int32]bool{}
	for _, t := range b.troubles {
		if t.Kind == AllAgainst {
			lines[t.Lines[0]] = true
		}
	}
	for i := range n.Edges {
		if len(lines) > 0 && lines[n.Edges[i].Line] {
			against[n.Edges[i].Component] = true
		}
	}
	return against
}

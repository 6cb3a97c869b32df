package flow

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// islandShare is the share of the longest component's length below which a component is reported as
// an island. Our choice.
const islandShare = 0.01

// placeOf returns the start of a line, for a trouble's location.
func (b *builder) placeOf(rank int32) orb.Point {
	if p := b.line(rank).Path; len(p) > 0 {
		return normal(p[0])
	}
	return orb.Point{}
}

// doubts reports what looks wrong and was not changed: components that look lost, and several
// outlets in one component. An outlet at a shore is not in doubt.
func (n *Network) doubts(b *builder) {
	n.reportManyMeet(b)
	arrived := n.arrivals(b)
	n.reportIslands(b, arrived)
	n.reportOutlets(b, arrived)
}

// mostMeeting is the largest number of edges at one node without a report. Our choice: published
// networks have at most six.
const mostMeeting = 12

// reportManyMeet reports nodes where more lines end than streams meet in nature.
func (n *Network) reportManyMeet(b *builder) {
	for v := range n.Nodes {
		edges := slices.Concat(n.In(int32(v)), n.Out(int32(v)))
		if len(edges) <= mostMeeting {
			continue
		}
		ranks := b.ranksOf(edges)
		slices.Sort(ranks)
		b.report(Trouble{
			Kind: ManyMeet, Lines: ranks, At: n.Nodes[v].At,
			Message: fmt.Sprintf("%d lines end at one place: %d come to it, %d leave it", len(edges), len(n.In(int32(v))), len(n.Out(int32(v)))),
			Repair:  "joined as drawn",
		})
	}
}

// reportIslands reports components that are much shorter than the longest and reach no shore.
func (n *Network) reportIslands(b *builder, arrived []bool) {
	ashore := make([]bool, n.Components)
	for v, yes := range arrived {
		if yes {
			ashore[n.Edges[n.In(int32(v))[0]].Component] = true
		}
	}
	km := make([]float64, n.Components)
	first := make([]int32, n.Components)
	lines := make([]int, n.Components)
	for i := len(b.arcs) - 1; i >= 0; i-- {
		a := &b.arcs[i]
		c := n.componentOfArc(b, a)
		first[c] = a.rank
		km[c] += (a.end - a.start) / 1000
		if a.first {
			lines[c]++
		}
	}
	longest := 0.0
	for _, x := range km {
		longest = max(longest, x)
	}
	for c, x := range km {
		if x < islandShare*longest && !ashore[c] {
			b.report(Trouble{
				Kind: Island, Lines: []int32{first[c]}, At: b.placeOf(first[c]),
				Message: fmt.Sprintf("%d lines, %.3f km, from line %s on are connected to nothing else", lines[c], x, b.name(first[c])),
				Repair:  "kept as a network of its own",
			})
		}
	}
}

// reportOutlets reports components with more than one outlet. The outlet with the most stream
// length above it is taken as the right one.
func (n *Network) reportOutlets(b *builder, arrived []bool) {
	ends := make([][]int32, n.Components)
	for v := range n.Nodes {
		if in := n.In(int32(v)); len(in) > 0 && len(n.Out(int32(v))) == 0 {
			c := n.Edges[in[0]].Component
			ends[c] = append(ends[c], int32(v))
		}
	}
	against := n.withAllAgainst(b)
	for c, nodes := range ends {
		if len(nodes) < 2 {
			continue // a single outlet is the main one
		}
		main := n.mainOutlet(nodes)
		for _, v := range nodes {
			if v != main && (arrived == nil || !arrived[v]) {
				n.reportOutlet(b, v, main, against[int32(c)])
			}
		}
	}
}

// mainOutlet returns the node with the most stream length above it, the first if equal.
func (n *Network) mainOutlet(nodes []int32) int32 {
	best, most := nodes[0], geo.Kilometers(-1)
	for _, v := range nodes {
		sum := geo.Kilometers(0)
		for _, e := range n.In(v) {
			sum = max(sum, n.Edges[e].UpstreamKm)
		}
		if sum > most {
			best, most = v, sum
		}
	}
	return best
}

// reportOutlet reports an outlet other than the main one. Where the whole part looks digitised against
// the flow, its branches are not reported one by one.
func (n *Network) reportOutlet(b *builder, v, main int32, against bool) {
	in := n.In(v)
	t := Trouble{Kind: TwoOutlets, Lines: b.ranksOf(in), At: n.Nodes[v].At}
	t.Repair = "kept as an outlet: what floats there leaves the network"
	branch := int32(-1)
	if len(in) == 1 && !against {
		branch = n.looseBranch(b, v)
	}
	switch {
	case len(in) > 1:
		t.Kind = ReversedDirection
		t.Message = fmt.Sprintf("%d lines face each other and none leaves, at the end of line %s", len(in), b.name(t.Lines[0]))
	case branch >= 0:
		t.Kind = LooseBranch
		t.Message = n.branchWords(b, branch, v)
		t.Repair = "flows as drawn: a share of what floats goes that way and leaves the network at its end"
	default:
		t.Message = fmt.Sprintf("line %s ends where nothing goes on, and so does the main outlet's line %s",
			b.name(t.Lines[0]), b.name(b.ranksOf(n.In(main))[0]))
	}
	b.report(t)
}

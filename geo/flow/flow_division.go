package flow

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// shareTolerance is how far the sum of given shares may differ from 1 without a report. Our choice:
// rounding to three decimals.
const shareTolerance = 1e-3

// divide sets the share of every edge and puts the main path first among the
// edges that leave a node.
func (n *Network) divide(b *builder) {
	for v := range n.Nodes {
		out := n.Out(int32(v))
		if len(out) == 1 {
			n.Edges[out[0]].Minor = b.divergence(out[0]) == MinorPath
		}
		if len(out) > 1 {
			n.setShares(b, int32(v), out)
			n.setMain(b, int32(v), out)
		}
	}
}

// divergence returns the recorded divergence at an edge's upstream end: the line's value when the
// edge is the line's first stretch.
func (b *builder) divergence(edge int32) uint8 {
	a := &b.arcs[b.edgeArc[edge]]
	if d := b.line(a.rank).Divergence; a.first && d <= MinorPath {
		return d
	}
	return NoDivergence
}

// givenShare returns the recorded share at an edge's upstream end, NaN for none.
func (b *builder) givenShare(edge int32) float64 {
	a := &b.arcs[b.edgeArc[edge]]
	if s := b.line(a.rank).Share; a.first && s >= 0 && !math.IsInf(s, 0) {
		return s
	}
	return math.NaN()
}

// setShares sets the shares of the edges that leave one node.
func (n *Network) setShares(b *builder, node int32, out []int32) {
	weight := make([]float64, len(out))
	given, sum := 0, 0.0
	for i, e := range out {
		weight[i] = b.givenShare(e)
		if !math.IsNaN(weight[i]) {
			given++
			sum += weight[i]
		}
	}
	switch {
	case given == 0:
		b.byWidth(out, weight)
	case given < len(out):
		b.fillShares(node, out, weight, sum)
	case sum == 0:
		b.reportShares(SharesNormalised, node, out, "the shares add up to 0", "the water is divided equally")
		fill(weight, 1)
	case math.Abs(sum-1) > shareTolerance:
		b.reportShares(SharesNormalised, node, out, fmt.Sprintf("the shares add up to %.4g", sum), "scaled to add up to 1")
	}
	total := 0.0
	for _, w := range weight {
		total += w
	}
	for i, e := range out {
		n.Edges[e].Share = weight[i] / total
	}
}

// byWidth sets weights to the widths when every branch has one, else to 1.
func (b *builder) byWidth(out []int32, weight []float64) {
	for i, e := range out {
		weight[i] = float64(b.line(b.arcs[b.edgeArc[e]].rank).Width)
		if !(weight[i] > 0) || math.IsInf(weight[i], 0) {
			fill(weight, 1)
			return
		}
	}
}

// fillShares divides what the given shares leave equally among the branches without a share.
func (b *builder) fillShares(node int32, out []int32, weight []float64, sum float64) {
	missing := 0
	for _, w := range weight {
		if math.IsNaN(w) {
			missing++
		}
	}
	rest := max(0, 1-sum) / float64(missing)
	for i, w := range weight {
		if math.IsNaN(w) {
			weight[i] = rest
		}
	}
	// a stretch that is not its line's first has no share to give: nothing to report
	for _, e := range out {
		if b.arcs[b.edgeArc[e]].first && math.IsNaN(b.givenShare(e)) {
			b.reportShares(SharesIncomplete, node, out, fmt.Sprintf("%d of %d branches have no share", missing, len(out)),
				"what the others leave was divided equally among them")
			return
		}
	}
}

// fill sets every weight to x.
func fill(weight []float64, x float64) {
	for i := range weight {
		weight[i] = x
	}
}

// reportShares reports trouble with the shares at a node.
func (b *builder) reportShares(kind string, node int32, out []int32, message, repair string) {
	b.report(Trouble{Kind: kind, Lines: b.ranksOf(out), At: b.nodes[node].At, Message: message, Repair: repair})
}

// ranksOf returns the ranks of edges' lines.
func (b *builder) ranksOf(edges []int32) []int32 {
	ranks := make([]int32, len(edges))
	for i, e := range edges {
		ranks[i] = b.arcs[b.edgeArc[e]].rank
	}
	return ranks
}

// setMain puts the main path first among the edges that leave a node and marks the others as minor.
// A branch marked main comes before an unmarked one, and that before one marked minor. Ties go to
// the largest share, then the largest recorded order, then a line that continues before one that
// begins, then the smallest name.
func (n *Network) setMain(b *builder, node int32, out []int32) {
	class := [...]int{NoDivergence: 1, MainPath: 0, MinorPath: 2}
	marked := 0
	for _, e := range out {
		if b.divergence(e) == MainPath {
			marked++
		}
	}
	if marked > 1 {
		b.report(Trouble{
			Kind: TwoMains, Lines: b.ranksOf(out), At: b.nodes[node].At,
			Message: fmt.Sprintf("%d branches are marked as the main path", marked),
			Repair:  "the one with the largest share, then order, then smallest name was taken",
		})
	}
	slices.SortFunc(out, func(x, y int32) int {
		return cmp.Or(
			cmp.Compare(class[b.divergence(x)], class[b.divergence(y)]),
			cmp.Compare(n.Edges[y].Share, n.Edges[x].Share),
			cmp.Compare(b.recordedOrder(y), b.recordedOrder(x)),
			b.begins(x)-b.begins(y),
			cmp.Compare(x, y),
		)
	})
	for i, e := range out {
		n.Edges[e].Minor = i > 0 || b.divergence(e) == MinorPath
	}
}

// recordedOrder returns the recorded order of an edge's line.
func (b *builder) recordedOrder(edge int32) int32 {
	return b.line(b.arcs[b.edgeArc[edge]].rank).Order
}

// begins returns 1 for an edge that is its line's first stretch, else 0.
func (b *builder) begins(edge int32) int { return count(b.arcs[b.edgeArc[edge]].first) }

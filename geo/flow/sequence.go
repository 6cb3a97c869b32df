package flow

import (
	"fmt"
	"math"
)

// span is the smallest and largest sequence of the lines at a node.
type span struct{ low, high float64 }

// flipBySequence marks the lines digitised against their sequence, of the lines without deciding
// names. Water comes from lines with a higher sequence and goes to lines with a lower one. Where
// the neighbours give no evidence, the digitised direction is kept.
func (b *builder) flipBySequence(nodeOf, placeNode []int32, flipped []bool) {
	spans, degree := b.sequenceSpans(nodeOf, placeNode)
	if spans == nil {
		return
	}
	for r := range b.lines.Len() {
		if !b.kept(int32(r)) || b.named[r] {
			continue
		}
		l := b.line(int32(r))
		start, end := nodeOf[2*r], nodeOf[2*r+1]
		if math.IsNaN(l.Sequence) || !runsUp(l.Sequence, spans[start], spans[end], degree[start], degree[end]) {
			continue
		}
		flipped[r] = true
		b.report(Trouble{
			Kind: ReversedDirection, Lines: []int32{int32(r)}, At: b.nodes[end].At,
			Message: fmt.Sprintf("line %s is digitised against its sequence", l.Name),
			Repair:  "turned round: flows from higher to lower sequence",
		})
	}
}

// sequenceSpans returns the range of sequences at each node and the number of line ends there; nil
// when no line has a sequence.
func (b *builder) sequenceSpans(nodeOf, placeNode []int32) (spans []span, degree []int32) {
	any := false
	spans, degree = make([]span, len(b.nodes)), make([]int32, len(b.nodes))
	for i := range spans {
		spans[i] = span{math.Inf(1), math.Inf(-1)}
	}
	add := func(node int32, sequence float64, ends int32) {
		degree[node] += ends
		if !math.IsNaN(sequence) {
			any = true
			s := &spans[node]
			s.low, s.high = min(s.low, sequence), max(s.high, sequence)
		}
	}
	for e, p := range b.ends {
		if p >= 0 && !b.named[e/2] {
			add(nodeOf[e], b.line(int32(e/2)).Sequence, 1)
		}
	}
	for _, c := range b.cuts {
		add(placeNode[b.places.Find(c.point)], b.line(c.rank).Sequence, 2)
	}
	if !any {
		return nil, nil
	}
	return spans, degree
}

// runsUp reports whether a line of sequence s, digitised from the start node to the end node, runs
// against the flow. A lower line at the start and a higher line at the end are evidence for it, the
// opposite is evidence against it. A loose end is upstream when the other end leaves the question
// open and has a lower line.
func runsUp(s float64, start, end span, startDegree, endDegree int32) bool {
	score := count(start.low < s) - count(start.high > s) + count(end.high > s) - count(end.low < s)
	if score != 0 {
		return score > 0
	}
	return endDegree == 1 && startDegree > 1 && start.low < s
}

// count returns 1 for true, 0 for false.
func count(b bool) int {
	if b {
		return 1
	}
	return 0
}

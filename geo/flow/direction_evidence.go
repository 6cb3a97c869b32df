package flow

import (
	"fmt"
	"slices"

	"driftreach/geo/disjoint"
)

const (
	// leastAgainst is the fewest places that must show a part digitised against the flow. Our
	// choice.
	leastAgainst = 3
	// timesAgainst is how many times more places must speak against the direction than for it. Our
	// choice: a braided network has far fewer minor paths, where orders fall.
	timesAgainst = 4
)

// evidence counts the places of a part that speak for the digitised direction, and against it.
type evidence struct{ with, against int }

func (e evidence) says() bool {
	return e.against >= leastAgainst && e.against >= timesAgainst*e.with
}

func (e *evidence) add(sign int) {
	e.with += count(sign > 0)
	e.against += count(sign < 0)
}

// witness is the evidence about one connected part whose direction only the digitising gives.
type witness struct {
	first, lines         int32
	slope, orders, shape evidence
	bound                bool // names or sequence direct part of it
}

// reportAllAgainst reports connected parts that look digitised against the flow. The evidence, best
// first: recorded slopes; recorded orders that fall downstream; water that divides many times and
// hardly ever meets. Linear.
func (b *builder) reportAllAgainst() {
	parts := disjoint.NewSets(len(b.nodes))
	for i := range b.arcs {
		parts.Union(b.arcs[i].from, b.arcs[i].to)
	}
	of := map[int32]*witness{}
	var inOrder []*witness
	for i := range b.arcs {
		a := &b.arcs[i]
		root := parts.Find(a.from)
		w := of[root]
		if w == nil {
			w = &witness{first: a.rank}
			of[root] = w
			inOrder = append(inOrder, w)
		}
		w.bound = w.bound || !a.digitised
		if a.first {
			w.lines++
			w.slope.add(b.fall(a))
		}
	}
	b.weighNodes(parts, of)
	for _, w := range inOrder {
		if reason, against := w.reason(); against && !w.bound {
			b.report(Trouble{
				Kind: AllAgainst, Lines: []int32{w.first}, At: b.placeOf(w.first),
				Message: fmt.Sprintf("the %d lines that hang together with line %s look digitised against the flow: %s", w.lines, b.name(w.first), reason),
				Repair:  "they flow as drawn",
			})
		}
	}
}

// fall returns 1 when the recorded slope of the arc's line falls in the arc's direction, -1 when it
// rises.
func (b *builder) fall(a *arc) int {
	fall := int(b.line(a.rank).Fall)
	if a.flipped {
		return -fall
	}
	return fall
}

// weighNodes adds the evidence at the nodes of each part: orders that rise or fall from one line to
// the next, and places where lines meet or divide.
func (b *builder) weighNodes(parts disjoint.Sets, of map[int32]*witness) {
	meeting := b.adjacency()
	var above, below []int
	for v := range b.nodes {
		in, out := 0, 0
		above, below = above[:0], below[:0]
		at := meeting.at(int32(v))
		for k, i := range at {
			if k > 0 && at[k-1] == i {
				continue // a loop, listed at both ends
			}
			a := &b.arcs[i]
			order := int(b.line(a.rank).Order)
			if a.to == int32(v) {
				in++
				above = append(above, order)
			}
			if a.from == int32(v) {
				out++
				below = append(below, order)
			}
		}
		if in == 0 && out == 0 {
			continue
		}
		w := of[parts.Find(int32(v))]
		w.orders.addPairs(above, below)
		if in > 1 || out > 1 {
			w.shape.add(in - out)
		}
	}
}

// addPairs adds the evidence of every pair of an order above a node and an order below it. Orders
// of 0 or less are unknown. It sorts both lists: thousands of lines may meet.
func (e *evidence) addPairs(above, below []int) {
	slices.Sort(above)
	slices.Sort(below)
	unknown, _ := slices.BinarySearch(below, 1)
	below = below[unknown:]
	less, atMost := 0, 0 // counts of orders below
	for _, order := range above {
		if order <= 0 {
			continue
		}
		for less < len(below) && below[less] < order {
			less++
		}
		for atMost < len(below) && below[atMost] <= order {
			atMost++
		}
		e.against += less
		e.with += len(below) - atMost
	}
}

// reason returns in words the best evidence against the direction.
func (w *witness) reason() (string, bool) {
	switch {
	case w.slope.says(): // slopes that are all positive may have lost their sign
		return fmt.Sprintf("the recorded slope is below 0 on %d lines, above it on %d", w.slope.against, w.slope.with), true
	case w.orders != evidence{}:
		return fmt.Sprintf("the recorded order falls on the way down at %d places, rises at %d", w.orders.against, w.orders.with), w.orders.says()
	}
	return fmt.Sprintf("the water parts at %d places, meets at %d", w.shape.against, w.shape.with), w.shape.says()
}

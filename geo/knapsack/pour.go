package knapsack

import (
	"math"
	"slices"

	"driftreach/geo/disjoint"
)

// pour moves excess through a large graph before the step-by-step pushing. With long chains of
// nodes and gains that nearly balance losses, pushing alone moves excess to and fro for hundreds of
// rounds. Moving it along whole trees puts most of it in place after a few rounds: first down a
// tree from the neediest nodes to the needed ones (down), then evened out over spanning trees
// (level). Pushing may start from any flow, so this changes the running time only, not the result.
func (c *closure) pour() {
	if len(c.gain) < fewPoured {
		return
	}
	var all float64
	for _, g := range c.gain {
		all += max(g, -g)
	}
	c.down()
	before := math.Inf(1)
	for range mostLevels {
		c.measure()
		left := c.excess()
		if left <= rounding*all {
			c.forget()
			return
		}
		if left > before*slowLevel {
			return
		}
		before = left
		c.level()
	}
}

// forget drops excess that is only rounding: it could move about for long.
func (c *closure) forget() {
	for i, g := range c.gain {
		if g > 0 && c.reaches(int32(i)) {
			c.gain[i] = 0
		}
	}
}

const (
	// fewPoured is the number of nodes from which this saves time. Our choice.
	fewPoured = 200
	// mostLevels limits the rounds. Our choice: 85,000 nodes needed up to 6.
	mostLevels = 60
	// slowLevel is the part of the excess that a round may leave; after one that leaves more, pushing
	// does the rest sooner. Our choice: in a lattice of streams the sixth round left nine tenths, and
	// the sixtieth half of that.
	slowLevel = 0.95
)

// excess sums the excess that can still reach a loss.
func (c *closure) excess() (sum float64) {
	for i, g := range c.gain {
		if g > 0 && c.reaches(int32(i)) {
			sum += g
		}
	}
	return sum
}

// down moves excess along shortest paths from the last nodes with excess to the losses beyond them.
// Each node asks the node before it for what it and the nodes beyond it lack.
func (c *closure) down() {
	ask := make([]float64, len(c.gain))
	for i, g := range c.gain {
		ask[i] = -g
	}
	last := func(k int) int { return len(c.gain) - 1 - k }
	order, from := c.forest(last, func(i int32) bool { return c.gain[i] > 0 && c.reaches(i) }, func(k int32) bool {
		return c.arcs[k].open() && c.reaches(c.arcs[k].to)
	})
	for _, i := range slices.Backward(order) {
		if k := from[i]; k >= 0 {
			ask[i] = max(0, ask[i])
			if a := &c.arcs[k]; !a.endless {
				ask[i] = min(ask[i], a.left)
			}
			ask[c.tail(k)] += ask[i]
		}
	}
	for _, i := range order {
		if k := from[i]; k >= 0 {
			before := c.tail(k)
			c.move(before, &c.arcs[k], min(ask[i], c.gain[before]))
		}
	}
}

// tail is the node an arc starts from.
func (c *closure) tail(k int32) int32 { return c.arcs[c.arcs[k].back].to }

// forest searches along arcs, breadth first, from the roots in the order turn gives. It lists the
// nodes reached and, by node, the arc that reached it: -1 at a root, -2 for a node not reached.
func (c *closure) forest(turn func(int) int, root func(int32) bool, along func(int32) bool) (order, from []int32) {
	n := len(c.gain)
	from = slices.Repeat([]int32{-2}, n)
	at := 0
	for k := range n {
		r := int32(turn(k))
		if from[r] != -2 || !root(r) {
			continue
		}
		from[r] = -1
		for order = append(order, r); at < len(order); at++ {
			i := order[at]
			for k := c.start[i]; k < c.start[i+1]; k++ {
				if to := c.arcs[k].to; from[to] == -2 && along(k) {
					from[to] = k
					order = append(order, to)
				}
			}
		}
	}
	return order, from
}

// level moves excess and loss towards the roots of spanning trees; they cancel where they meet. The
// trees prefer arcs over which most can be moved back, then arcs that bring excess nearer to a
// loss.
func (c *closure) level() {
	kept := c.spanning()
	first := func(k int) int { return k }
	order, from := c.forest(first, func(int32) bool { return true }, func(k int32) bool { return kept[k] })
	for _, i := range slices.Backward(order) {
		k := from[i]
		switch {
		case k < 0:
		case c.gain[i] > 0:
			c.move(i, &c.arcs[c.arcs[k].back], c.gain[i])
		case c.gain[i] < 0:
			c.move(c.tail(k), &c.arcs[k], -c.gain[i])
		}
	}
}

// spanning says by arc whether it is in the trees, in both directions (Kruskal, Proc. Amer. Math.
// Soc. 7(1), 1956).
func (c *closure) spanning() []bool {
	type link struct {
		arc  int32
		back float64 // what can be moved back
	}
	var most []link
	var nearer, others []int32 // nothing can be moved back over these; by arc, so there is nothing to sort
	for i := range int32(len(c.gain)) {
		if !c.reaches(i) {
			continue
		}
		for k := c.start[i]; k < c.start[i+1]; k++ {
			a := &c.arcs[k]
			if !a.endless || !c.reaches(a.to) {
				continue
			}
			switch back := c.arcs[a.back].left; {
			case back > 0:
				most = append(most, link{k, back})
			case c.label[i] == c.label[a.to]+1:
				nearer = append(nearer, k)
			default:
				others = append(others, k)
			}
		}
	}
	slices.SortFunc(most, func(a, b link) int { return largestFirst(a.back, b.back, a.arc, b.arc) })
	sets := disjoint.NewSets(len(c.gain))
	kept := make([]bool, len(c.arcs))
	keep := func(k int32) {
		if sets.Union(c.tail(k), c.arcs[k].to) {
			kept[k], kept[c.arcs[k].back] = true, true
		}
	}
	for _, l := range most {
		keep(l.arc)
	}
	for _, k := range slices.Concat(nearer, others) {
		keep(k)
	}
	return kept
}

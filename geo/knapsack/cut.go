package knapsack

// closure finds, of the nodes of a graph with gains, a set worth most that
// has all it needs: by minimum cut (Picard, Management Science 22(11), 1976),
// the largest such set where several are. The cut is found by pushing excess to
// the lowest place (Goldberg & Tarjan, J. ACM 35(4), 1988), first in first out, where
// the heights are measured anew each time as many were lifted as there are nodes
// (Cherkassky & Goldberg, Algorithmica 19(4), 1997), once most of it was moved along whole
// trees (pour.go). Needs never fill up, so that the set is
// closed whatever is rounded.
type closure struct {
	gain  []float64 // by node; what is left of a loss counts down to 0
	start []int32   // by node: its arcs
	arcs  []arc
	label []int32
	next  []int32 // by node: arc to try
	queue []int32
	in    []bool // by node: in the queue
	lifts int    // since the labels were measured
}

// arc leads to a node that is needed, or back to one that needs.
type arc struct {
	to, back int32
	endless  bool
	left     float64
}

// open says whether something can be moved over an arc.
func (a *arc) open() bool { return a.endless || a.left > 0 }

// links gives a closure its graph: by node those it needs.
func (c *closure) links(needs [][]int32) {
	n := len(needs)
	c.start = make([]int32, n+1)
	for i, own := range needs {
		c.start[i+1] += int32(len(own))
		for _, need := range own {
			c.start[need+1]++
		}
	}
	for i := range n {
		c.start[i+1] += c.start[i]
	}
	c.arcs = make([]arc, c.start[n])
	fill := append([]int32(nil), c.start[:n]...)
	for i, own := range needs {
		for _, need := range own {
			there, back := fill[i], fill[need]
			fill[i], fill[need] = there+1, back+1
			c.arcs[there] = arc{to: need, back: back, endless: true}
			c.arcs[back] = arc{to: int32(i), back: there}
		}
	}
}

// best returns by node whether it is in the set.
func (c *closure) best(gain []float64) []bool {
	n := len(gain)
	c.gain = gain
	c.label, c.next, c.in = make([]int32, n), make([]int32, n), make([]bool, n)
	c.measure()
	c.pour()
	for i := range gain {
		c.enqueue(int32(i))
	}
	for at := 0; at < len(c.queue); at++ {
		i := c.queue[at]
		c.in[i] = false
		c.discharge(i)
		if c.lifts > n {
			c.measure()
		}
		if at > n && 2*at > len(c.queue) {
			c.queue = append(c.queue[:0], c.queue[at+1:]...)
			at = -1
		}
	}
	c.measure()
	out := make([]bool, n)
	for i := range out {
		out[i] = int(c.label[i]) > n
	}
	return out
}

// reaches says whether a loss can be come to from a node, as last measured.
func (c *closure) reaches(i int32) bool { return int(c.label[i]) <= len(c.label) }

// enqueue lets a node with excess that can still lose it wait for its turn.
func (c *closure) enqueue(i int32) {
	if c.gain[i] > 0 && c.reaches(i) && !c.in[i] {
		c.in[i] = true
		c.queue = append(c.queue, i)
	}
}

// measure sets labels to the least number of steps to a loss; n+1 where none can be
// come to.
func (c *closure) measure() {
	n := len(c.label)
	c.lifts = 0
	var queue []int32
	for i := range c.label {
		c.label[i], c.next[i] = int32(n+1), c.start[i]
		if c.gain[i] < 0 {
			c.label[i] = 1
			queue = append(queue, int32(i))
		}
	}
	for at := 0; at < len(queue); at++ {
		to := queue[at]
		for _, a := range c.arcs[c.start[to]:c.start[to+1]] {
			if c.arcs[a.back].open() && int(c.label[a.to]) == n+1 {
				c.label[a.to] = c.label[to] + 1
				queue = append(queue, a.to)
			}
		}
	}
}

// discharge pushes a node's excess on, and lifts it where it cannot.
func (c *closure) discharge(i int32) {
	n := int32(len(c.label))
	for c.gain[i] > 0 && c.label[i] <= n {
		if c.next[i] == c.start[i+1] {
			c.lift(i)
			continue
		}
		if a := &c.arcs[c.next[i]]; a.open() && c.label[i] == c.label[a.to]+1 {
			c.move(i, a, c.gain[i]) // a loss takes up what comes to it
			c.enqueue(a.to)
			continue
		}
		c.next[i]++
	}
}

// move takes as much over an arc from its node as is given and fits.
func (c *closure) move(from int32, a *arc, amount float64) {
	if !a.endless {
		amount = min(amount, a.left)
	}
	if amount <= 0 {
		return
	}
	if !a.endless {
		a.left -= amount
	}
	if back := &c.arcs[a.back]; !back.endless {
		back.left += amount
	}
	c.gain[from] -= amount
	c.gain[a.to] += amount
}

// lift puts a node just above the lowest it can push to, beyond all where there is none.
func (c *closure) lift(i int32) {
	n := int32(len(c.label))
	lowest := n
	for _, a := range c.arcs[c.start[i]:c.start[i+1]] {
		if a.open() {
			lowest = min(lowest, c.label[a.to])
		}
	}
	c.label[i], c.next[i] = min(lowest+1, n+1), c.start[i]
	c.lifts++
}

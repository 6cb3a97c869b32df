package knapsack

// closure finds the set of highest gain that contains everything its nodes need, by minimum cut
// (Picard, Management Science 22(11), 1976); of several such sets the largest. The cut is found by
// push-relabel (Goldberg & Tarjan, J. ACM 35(4), 1988) with a first-in, first-out queue. Labels are
// recomputed after as many lifts as there are nodes (Cherkassky & Goldberg, Algorithmica 19(4),
// 1997). Before that, most excess is moved along whole trees (pour.go). Arcs to needed nodes have
// endless capacity, so rounding cannot leave a needed node out of the set.
type closure struct {
	gain  []float64 // by node; below 0 it is a loss that still takes up excess
	start []int32   // by node: its arcs
	arcs  []arc
	label []int32
	next  []int32 // by node: the next arc to try
	queue []int32
	in    []bool // by node: in the queue
	lifts int    // since the labels were last computed
}

// arc leads from a node to one it needs, or back.
type arc struct {
	to, back int32
	endless  bool
	left     float64
}

// open says whether the arc has capacity left.
func (a *arc) open() bool { return a.endless || a.left > 0 }

// links sets the graph: by node, the nodes it needs.
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

// reaches says whether a node could reach a loss when labels were last computed.
func (c *closure) reaches(i int32) bool { return int(c.label[i]) <= len(c.label) }

// enqueue queues a node with excess that can still reach a loss.
func (c *closure) enqueue(i int32) {
	if c.gain[i] > 0 && c.reaches(i) && !c.in[i] {
		c.in[i] = true
		c.queue = append(c.queue, i)
	}
}

// measure sets each label to the fewest steps to a loss, n+1 where no loss can be reached.
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

// discharge pushes a node's excess on, and lifts the node where it cannot.
func (c *closure) discharge(i int32) {
	n := int32(len(c.label))
	for c.gain[i] > 0 && c.label[i] <= n {
		if c.next[i] == c.start[i+1] {
			c.lift(i)
			continue
		}
		if a := &c.arcs[c.next[i]]; a.open() && c.label[i] == c.label[a.to]+1 {
			c.move(i, a, c.gain[i]) // a loss takes up incoming excess
			c.enqueue(a.to)
			continue
		}
		c.next[i]++
	}
}

// move pushes up to amount over an arc, as far as its capacity allows.
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

// lift puts a node one above the lowest node it can push to, or above all where there is none.
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

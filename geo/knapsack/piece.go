package knapsack

// piece is one part of a decomposition.
type piece struct {
	value, cost float64
	nodes       []int32 // each after the nodes it needs
}

// sorted returns the placed rows by value per cost, each after the rows it needs. Only rounding can
// make the two orders differ.
func (c *chain) sorted() []piece {
	of := c.seen // by node: its piece
	for p, row := range c.placed {
		for i := row.head; i >= 0; i = c.next[i] {
			of[i] = int32(p)
		}
	}
	open, down := make([]int, len(c.placed)), make([][]int32, len(c.placed))
	for i := range c.needs {
		for _, need := range c.needs[i] {
			if of[need] != of[i] {
				open[of[i]]++
				down[of[need]] = append(down[of[need]], of[i])
			}
		}
	}
	var free heap
	offer := func(p int32) { free.push(entry{-c.placed[p].rank, c.placed[p].head, p}) }
	for p := range c.placed {
		if open[p] == 0 {
			offer(int32(p))
		}
	}
	out, held := make([]piece, 0, len(c.placed)), make([]int32, 0, len(c.needs))
	for len(free) > 0 {
		p := free.pop().version
		row := c.placed[p]
		start := len(held)
		for i := row.head; i >= 0; i = c.next[i] {
			held = append(held, i)
		}
		out = append(out, piece{value: row.value, cost: row.cost, nodes: held[start:len(held):len(held)]})
		for _, q := range down[p] {
			if open[q]--; open[q] == 0 {
				offer(q)
			}
		}
	}
	return out
}

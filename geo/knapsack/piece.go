package knapsack

// piece is one part of a decomposition.
type piece struct {
	value, cost float64
	rank        float64 // value per cost, or what stands in its place
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
	// Which pieces need piece p: piecesOf from first[p] to first[p+1].
	c.open, c.first = zeroed(c.open, len(c.placed)), zeroed(c.first, len(c.placed)+2)
	links := func(each func(need, by int32)) {
		for i := range c.needs {
			for _, need := range c.needs[i] {
				if of[need] != of[i] {
					each(of[need], of[i])
				}
			}
		}
	}
	links(func(need, by int32) { c.open[by]++; c.first[need+2]++ })
	for p := range c.placed {
		c.first[p+2] += c.first[p+1]
	}
	c.piecesOf = sized(c.piecesOf, int(c.first[len(c.placed)+1]))
	links(func(need, by int32) { c.piecesOf[c.first[need+1]] = by; c.first[need+1]++ })
	free := c.low[:0]
	offer := func(p int32) { free.push(entry{-c.placed[p].rank, c.placed[p].head, p}) }
	for p := range c.placed {
		if c.open[p] == 0 {
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
		out = append(out, piece{value: row.value, cost: row.cost, rank: row.rank, nodes: held[start:len(held):len(held)]})
		for _, q := range c.piecesOf[c.first[p]:c.first[p+1]] {
			if c.open[q]--; c.open[q] == 0 {
				offer(q)
			}
		}
	}
	c.low = free[:0]
	return out
}

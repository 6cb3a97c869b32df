package flow

// totaller adds up loads over blocks. The load upstream of a node has two parts: up comes from the
// blocks that hang from the node, down from the block in which the node itself hangs.
type totaller struct {
	n        *Network
	b        *builder
	own      []load // by edge
	up, down []load // by node
	upOf     []load // by block: its share of up at its top
	blocks   *blocks
	hanging  [][]int32 // by node, filled on demand: blocks hanging from it
	scratch  braid
}

// run computes up and down for the components with rings: up from the lowest blocks towards the
// root, then down in the opposite direction.
func (t *totaller) run(ringed func(component int32) bool) {
	t.blocks = t.n.findBlocks(ringed)
	count := len(t.blocks.top)
	t.upOf = make([]load, count)
	t.scratch.local = make([]int32, len(t.n.Nodes))
	for k := range count {
		t.upOf[k] = t.intoTop(k)
		top := t.blocks.top[k]
		t.up[top] = t.up[top].plus(t.upOf[k])
	}
	for k := count - 1; k >= 0; k-- {
		t.spread(k)
	}
}

// intoTop returns the load of block k and of everything below it that reaches its top.
func (t *totaller) intoTop(k int) load {
	edges, top := t.blocks.of(k), t.blocks.top[k]
	if len(edges) == 1 {
		e := &t.n.Edges[edges[0]]
		if e.To != top {
			return load{}
		}
		return t.own[edges[0]].plus(t.up[e.From])
	}
	return t.scratch.intoTop(t, edges, top)
}

// spread sets down at every node of block k except its top.
func (t *totaller) spread(k int) {
	edges, top := t.blocks.of(k), t.blocks.top[k]
	if len(edges) > 1 {
		t.scratch.spread(t, k, edges, top)
		return
	}
	e := &t.n.Edges[edges[0]]
	if e.To != top {
		t.down[e.To] = t.own[edges[0]].plus(t.beyondTop(k))
	}
}

// beyondTop returns the load that reaches the top of block k from outside the block.
func (t *totaller) beyondTop(k int) load {
	top := t.blocks.top[k]
	sum := t.down[top]
	for _, other := range t.hangingFrom(top) {
		if int(other) != k {
			sum = sum.plus(t.upOf[other])
		}
	}
	return sum
}

// hangingFrom returns the blocks that hang from a node.
func (t *totaller) hangingFrom(node int32) []int32 {
	if t.hanging == nil {
		t.hanging = make([][]int32, len(t.n.Nodes))
		for k, top := range t.blocks.top {
			t.hanging[top] = append(t.hanging[top], int32(k))
		}
	}
	return t.hanging[node]
}

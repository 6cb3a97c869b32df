package flow

import "fmt"

// cutCycles makes the arcs free of cycles. It sets aside all nodes that water reaches without
// passing a cycle. In the rest it walks downstream, first from nodes that water enters, then in
// canonical order, main paths before minor ones. An arc that leads back to a node of the walk
// closes a cycle. Such an arc gets a new upstream node, so nothing flows into it from the ring.
// Linear.
func (b *builder) cutCycles() {
	in, _ := b.arcDegrees()
	out := b.outOf()
	entered := make([]bool, len(b.nodes))
	left := peel(b.arcs, in, out, entered)
	if left == 0 {
		return
	}
	walk := cycleWalk{b: b, out: out, state: make([]uint8, len(b.nodes))}
	for _, first := range [2]bool{true, false} {
		for v := range b.nodes[:len(in)] {
			if in[v] > 0 && entered[v] == first {
				walk.from(int32(v))
			}
		}
	}
	for _, i := range walk.back {
		b.detach(i)
	}
}

// outOf returns the arcs that leave each node.
func (b *builder) outOf() *adjacency {
	start := make([]int32, len(b.nodes)+1)
	for _, a := range b.arcs {
		start[a.from+1]++
	}
	for i := range b.nodes {
		start[i+1] += start[i]
	}
	fill := append([]int32(nil), start...)
	arcs := make([]int32, len(b.arcs))
	for i, a := range b.arcs {
		arcs[fill[a.from]] = int32(i)
		fill[a.from]++
	}
	return &adjacency{start, arcs}
}

// peel removes, upstream first, every node that is not on or below a cycle. It counts in down to 0,
// marks the nodes that a removed arc enters, and returns how many nodes are left.
func peel(arcs []arc, in []int32, out *adjacency, entered []bool) int {
	queue := make([]int32, 0, len(in))
	for v := range in {
		if in[v] == 0 {
			queue = append(queue, int32(v))
		}
	}
	for head := 0; head < len(queue); head++ {
		for _, i := range out.at(queue[head]) {
			to := arcs[i].to
			entered[to] = true
			if in[to]--; in[to] == 0 {
				queue = append(queue, to)
			}
		}
	}
	return len(in) - len(queue)
}

// cycleWalk is a depth-first walk downstream without recursion.
type cycleWalk struct {
	b     *builder
	out   *adjacency
	state []uint8 // 0 not seen, 1 on the walk, 2 done
	back  []int32 // arcs that close a cycle
	stack []walkStep
}

// walkStep is a node on the walk with the number of its arcs already followed: main paths in the
// first pass, minor ones in the second.
type walkStep struct {
	node, next int32
	minor      bool
}

// from walks from a node.
func (w *cycleWalk) from(node int32) {
	w.enter(node)
	for len(w.stack) > 0 {
		top := &w.stack[len(w.stack)-1]
		arcs := w.out.at(top.node)
		if int(top.next) == len(arcs) {
			if top.minor {
				w.state[top.node] = 2
				w.stack = w.stack[:len(w.stack)-1]
			} else {
				top.next, top.minor = 0, true
			}
			continue
		}
		i := arcs[top.next]
		top.next++
		a := &w.b.arcs[i]
		if (w.b.line(a.rank).Divergence == MinorPath) != top.minor {
			continue
		}
		if w.state[a.to] == 1 {
			w.back = append(w.back, i)
		} else {
			w.enter(a.to)
		}
	}
}

// enter adds a node to the walk if it was not visited yet.
func (w *cycleWalk) enter(node int32) {
	if w.state[node] == 0 {
		w.state[node] = 1
		w.stack = append(w.stack, walkStep{node: node})
	}
}

// detach gives an arc a new upstream node and reports it.
func (b *builder) detach(i int32) {
	a := &b.arcs[i]
	b.report(Trouble{
		Kind: CycleCut, Lines: []int32{a.rank}, At: b.nodes[a.from].At,
		Message: fmt.Sprintf("water goes round: line %s leads back to a place upstream of it", b.name(a.rank)),
		Repair:  "no water enters this line from the ring any more",
	})
	b.nodes = append(b.nodes, Node{At: b.nodes[a.from].At})
	a.from = int32(len(b.nodes) - 1)
}

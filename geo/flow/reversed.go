package flow

import "fmt"

// maxChain limits, in arcs, how far a stretch against the flow is followed, and how far the check
// for a ring looks. Our choice.
const maxChain = 10000

// turnReversed reverses stretches digitised against the flow. Such a stretch runs without branches
// from a node that nothing enters and more than one line leaves, to a node that nothing leaves and
// more than one line enters. It is not reversed where that would make a ring.
func (b *builder) turnReversed() {
	in, out := b.arcDegrees()
	var adjacent *adjacency
	for i := range b.arcs {
		a := &b.arcs[i]
		if !a.digitised || in[a.from] != 0 || out[a.from] < 2 {
			continue
		}
		if adjacent == nil {
			adjacent = b.adjacency()
		}
		chain := b.reversedChain(int32(i), adjacent, in, out)
		if chain == nil {
			continue
		}
		source, sink := a.from, b.arcs[chain[len(chain)-1]].to
		b.flipChain(chain)
		in[source], out[source] = in[source]+1, out[source]-1
		in[sink], out[sink] = in[sink]-1, out[sink]+1
	}
}

// adjacency lists the arcs at each node, in either direction.
type adjacency struct{ start, arcs []int32 }

// at returns the arcs at a node.
func (a *adjacency) at(node int32) []int32 { return a.arcs[a.start[node]:a.start[node+1]] }

// adjacency returns the arcs at each node in canonical order.
func (b *builder) adjacency() *adjacency {
	start := make([]int32, len(b.nodes)+1)
	for _, a := range b.arcs {
		start[a.from+1]++
		start[a.to+1]++
	}
	for i := range b.nodes {
		start[i+1] += start[i]
	}
	fill := append([]int32(nil), start...)
	arcs := make([]int32, 2*len(b.arcs))
	for i, a := range b.arcs {
		for _, node := range [2]int32{a.from, a.to} {
			arcs[fill[node]] = int32(i)
			fill[node]++
		}
	}
	return &adjacency{start, arcs}
}

// arcDegrees returns how many arcs enter and leave each node.
func (b *builder) arcDegrees() (in, out []int32) {
	in, out = make([]int32, len(b.nodes)), make([]int32, len(b.nodes))
	for _, a := range b.arcs {
		in[a.to]++
		out[a.from]++
	}
	return in, out
}

// reversedChain returns the arcs from the given arc, which leaves a source, to a node that nothing
// leaves and more than one arc enters; nil when there is no such chain.
func (b *builder) reversedChain(i int32, adjacent *adjacency, in, out []int32) []int32 {
	chain := []int32{i}
	for len(chain) < maxChain {
		a := &b.arcs[chain[len(chain)-1]]
		if !a.digitised {
			return nil
		}
		if out[a.to] == 0 {
			if in[a.to] < 2 || b.reaches(b.arcs[i].from, a.to, chain, adjacent) {
				return nil
			}
			return chain
		}
		if in[a.to] != 1 || out[a.to] != 1 {
			return nil
		}
		for _, j := range adjacent.at(a.to) {
			if b.arcs[j].from == a.to {
				chain = append(chain, j)
				break
			}
		}
	}
	return nil
}

// reaches reports whether water from one node gets to another without the chain. It also reports
// true when the search was too long.
func (b *builder) reaches(from, to int32, chain []int32, adjacent *adjacency) bool {
	seen := map[int32]bool{from: true}
	for _, i := range chain[:len(chain)-1] {
		seen[b.arcs[i].to] = true
	}
	queue := []int32{from}
	last := chain[len(chain)-1]
	for len(queue) > 0 {
		node := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, j := range adjacent.at(node) {
			next := b.arcs[j].to
			if b.arcs[j].from != node || j == last || seen[next] {
				continue
			}
			if next == to || len(seen) > maxChain {
				return true
			}
			seen[next] = true
			queue = append(queue, next)
		}
	}
	return false
}

// flipChain reverses the arcs of a chain and reports their lines.
func (b *builder) flipChain(chain []int32) {
	t := Trouble{Kind: ReversedDirection, At: b.nodes[b.arcs[chain[len(chain)-1]].to].At}
	for _, i := range chain {
		b.arcs[i].turnRound()
		if r := b.arcs[i].rank; len(t.Lines) == 0 || t.Lines[len(t.Lines)-1] != r {
			t.Lines = append(t.Lines, r)
		}
	}
	t.Message = fmt.Sprintf("lines face each other: line %s runs against its neighbours at both ends", b.name(t.Lines[0]))
	t.Repair = "turned round"
	b.report(t)
}

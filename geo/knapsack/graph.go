package knapsack

import "slices"

// graph is the part of a problem that is still to be chosen. Each node is a group of items chosen
// together, and every node comes after the nodes it needs.
type graph struct {
	value, cost []float64
	needs       [][]int32 // direct, ascending, each once
	neededBy    [][]int32 // likewise
	place       []int32   // scratch space for part
	made        *chain    // scratch space for pieces
	parts       *apart    // the parts known, for apart
}

// problem is a set of items without those already settled.
type problem struct {
	items   []Item
	settled []bool  // by item: in for any choice
	nodeOf  []int32 // by item: node of the graph, -1 when settled in or out
	members [][]int32
	graph
	value0, cost0 float64 // of the items settled in
}

// pose settles the fixed items and everything that follows from them, and groups the rest.
func pose(items []Item, fixed []Fix) *problem {
	check(items, fixed)
	p := &problem{items: items, settled: make([]bool, len(items)), nodeOf: make([]int32, len(items))}
	group, count := Mutual(len(items), func(i int32) []int32 { return items[i].Needs })
	members := make([][]int32, count)
	for i, g := range group {
		members[g] = append(members[g], int32(i))
	}
	in, out := settle(items, fixed, group, members)
	node := make([]int32, count)
	for _, g := range inTurn(items, group, members) {
		node[g] = -1
		switch {
		case in[g]:
			for _, i := range members[g] {
				p.settled[i] = true
			}
		case !out[g]:
			node[g] = int32(len(p.members))
			p.addNode(members[g], group, node)
		}
	}
	for i, g := range group {
		p.nodeOf[i] = node[g]
		if in[g] {
			p.value0 += items[i].Value
			p.cost0 += items[i].Cost
		}
	}
	nearest(p.needs)
	p.link()
	return p
}

// inTurn orders the groups so that each comes after those it needs. Of the groups that may come
// next, the one with the lowest first item goes first.
func inTurn(items []Item, group []int32, members [][]int32) []int32 {
	waits, neededBy := make([]int32, len(members)), make([][]int32, len(members))
	for i, g := range group {
		for _, need := range items[i].Needs {
			if n := group[need]; n != g {
				waits[g]++
				neededBy[n] = append(neededBy[n], g)
			}
		}
	}
	var free heap
	offer := func(g int32) { free.push(entry{float64(members[g][0]), g, 0}) }
	for g := range members {
		if waits[g] == 0 {
			offer(int32(g))
		}
	}
	out := make([]int32, 0, len(members))
	for len(free) > 0 {
		g := free.pop().of
		out = append(out, g)
		for _, by := range neededBy[g] {
			if waits[by]--; waits[by] == 0 {
				offer(by)
			}
		}
	}
	return out
}

// settle says by group whether it is in, or out, for any choice.
func settle(items []Item, fixed []Fix, group []int32, members [][]int32) (in, out []bool) {
	in, out = make([]bool, len(members)), make([]bool, len(members))
	for i, f := range fixed {
		in[group[i]] = in[group[i]] || f == In
		out[group[i]] = out[group[i]] || f == Out
	}
	for g := len(members) - 1; g >= 0; g-- { // from the groups that need to the groups needed
		for _, i := range members[g] {
			for _, need := range items[i].Needs {
				in[group[need]] = in[group[need]] || in[g]
			}
		}
	}
	for g := range members {
		for _, i := range members[g] {
			for _, need := range items[i].Needs {
				out[g] = out[g] || out[group[need]] && !in[group[need]]
			}
		}
	}
	return in, out
}

// addNode appends a node. What it needs already has a node or is settled in.
func (p *problem) addNode(members, group, node []int32) {
	var value, cost float64
	var needs []int32
	for _, i := range members {
		value += p.items[i].Value
		cost += p.items[i].Cost
		for _, need := range p.items[i].Needs {
			if n := node[group[need]]; n >= 0 && int(n) != len(p.members) {
				needs = append(needs, n)
			}
		}
	}
	slices.Sort(needs)
	p.members = append(p.members, members)
	p.value, p.cost = append(p.value, value), append(p.cost, cost)
	p.needs = append(p.needs, slices.Compact(needs))
}

// link fills in neededBy from needs.
func (g *graph) link() {
	g.neededBy = make([][]int32, len(g.needs))
	for n, needs := range g.needs {
		for _, need := range needs {
			g.neededBy[need] = append(g.neededBy[need], int32(n))
		}
	}
}

// choice combines the chosen nodes with the items settled in.
func (p *problem) choice(chosen []bool) Choice {
	c := Choice{In: make([]bool, len(p.items))}
	for i := range p.items {
		n := p.nodeOf[i]
		if p.settled[i] || n >= 0 && chosen[n] {
			c.In[i] = true
			c.Value += p.items[i].Value
			c.Cost += p.items[i].Cost
		}
	}
	return c
}

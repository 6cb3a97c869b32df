package knapsack

import (
	"cmp"
	"math"
	"slices"
)

// Best returns the set of highest value that fits the budget and contains everything its items
// need, or a set close to it. Bound limits how far it can be from the best; Exact says that it is
// the best. Up to mostExact unsettled items are searched together (search.go), until the best set
// is found or the search limit is reached. With more items, Best first searches a core: the pieces
// around the place where the budget runs out, with all better pieces taken and all worse ones left
// out (Balas & Zemel, Operations Research 28(5), 1980). It then fixes every item that no better set
// could change, and searches the whole problem as far as wholeWork allows, so that the bound holds
// for the whole. A cost that is over the budget by rounding alone counts as within it. Cost for
// many items is a few times that of Nested: n log n where the needs form trees.
func Best(items []Item, budget float64, opt Options) Choice {
	p := pose(items, opt.Fixed)
	left := max(0, budget-p.cost0) * (1 + met)
	s, bound := p.around(left, opt.nodes(), mostExact)
	c := p.choice(s.best)
	if most := max(budget, p.cost0); c.Cost > most && c.Cost <= most*(1+2*met) {
		c.Cost = most
	}
	c.Exact = !beats(p.value0+bound, c.Value)
	c.Bound = max(c.Value, p.value0+bound)
	return c
}

// met is the relative amount by which a sum of costs may exceed a budget through rounding. Our
// choice.
const met = 1e-12

const (
	// mostExact is the largest number of nodes searched as a whole. Our choice: about a second's
	// work.
	mostExact = 5000
	// usualNodes limits the sets of choices (branches) one search looks at. Our choice: some
	// seconds' work.
	usualNodes = 20_000
	// usualWork limits nodes times branches for large problems. Our choice: some seconds' work.
	usualWork = 8_000_000
	// coreNodes is the size of the core of a larger problem, and coreLooks limits the branches
	// looked at in it. Our choice: about a second's work.
	coreNodes, coreLooks = 1000, 400
	// wholeWork limits the nodes looked at, summed over branches, after the core. Our choice: one or
	// two seconds' work.
	wholeWork = 600_000
)

func (o Options) nodes() int {
	if o.Nodes == 0 {
		return usualNodes
	}
	return max(1, o.Nodes)
}

// around searches for the best set that costs at most left. With more than few nodes it first
// searches the pieces around the place where the budget runs out; that settles most of the others.
func (p *problem) around(left float64, nodes, few int) (s *search, bound float64) {
	s = p.search(left)
	fixed := make([]Fix, len(p.members))
	pieces, bound := s.look(fixed)
	if len(p.members) <= few {
		bound, _ = s.run(effort{min(nodes, max(1, usualWork/max(1, len(p.members)))), math.MaxInt})
		return s, bound
	}
	pieces, core := kept(pieces), slices.Clone(fixed)
	settleFar(pieces, left, core)
	best, _, _ := p.exact(left, core, effort{min(nodes, coreLooks), coreLooks * coreNodes})
	s.keep(best)
	s.settle(pieces, fixed, bound, left)
	bound, _ = s.run(effort{nodes, wholeWork})
	return s, bound
}

// kept returns pieces that stay valid.
func kept(pieces []piece) []piece {
	out := slices.Clone(pieces)
	for i := range out {
		out[i].nodes = slices.Clone(out[i].nodes)
	}
	return out
}

// useless says that a piece adds no value.
func (p piece) useless() bool { return p.value < 0 || p.value == 0 && p.cost > 0 }

// whole counts the leading pieces that add value and fit into left together.
func whole(pieces []piece, left float64) (at int) {
	for at < len(pieces) && !pieces[at].useless() && pieces[at].cost <= left {
		left -= pieces[at].cost
		at++
	}
	return at
}

// settleFar fixes the pieces more than coreNodes/2 nodes before the place where the budget runs out
// in, and those more than coreNodes/2 nodes after it out.
func settleFar(pieces []piece, left float64, fixed []Fix) {
	at := whole(pieces, left)
	set := func(p piece, to Fix) {
		for _, n := range p.nodes {
			fixed[n] = to
		}
	}
	nodes := 0
	for i := at - 1; i >= 0; i-- {
		if nodes += len(pieces[i].nodes); nodes > coreNodes/2 {
			set(pieces[i], In)
		}
	}
	nodes = 0
	for _, p := range pieces[at:] {
		if nodes > coreNodes/2 {
			set(p, Out)
		}
		nodes += len(p.nodes)
	}
}

// Curve returns the choice for each budget. Budgets may be in any order; a larger budget never
// gives less value.
func Curve(items []Item, budgets []float64, opt Options) []Choice {
	order := make([]int, len(budgets))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(budgets[a], budgets[b]) })
	out := make([]Choice, len(budgets))
	for k, i := range order {
		out[i] = Best(items, budgets[i], opt)
		if k > 0 {
			if last := out[order[k-1]]; last.Value > out[i].Value {
				last.In = slices.Clone(last.In)
				last.Bound, last.Exact = out[i].Bound, last.Value >= out[i].Bound
				out[i] = last
			}
		}
	}
	return out
}

package knapsack

import (
	"cmp"
	"math"
	"slices"
)

// Best returns the set worth most of those that fit the budget and have all they
// need, or one near it: Bound says how near, Exact when it is the best. Up to
// mostExact items that are not settled, the search (search.go) goes on until it
// is the best or the time for it is over; of more, a core about the place where the
// budget ends is searched first, pieces worth more all in and those worth less all out
// (Balas & Zemel, Operations Research 28(5), 1980). What cannot be otherwise in anything
// better is then settled, and the search goes on with the rest of all for as long as
// wholeWork allows, so that the bound is of all. A budget that is met to rounding is kept.
// Cost for many items is some times that of Nested: n log n where what needs others makes trees.
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

// met is by what share sums of costs may be above a budget by rounding alone. Our
// choice.
const met = 1e-12

const (
	// mostExact is how many nodes are searched as a whole. Our choice: about a second's work.
	mostExact = 5000
	// usualNodes is how many sets of choices are looked at: some seconds' work. Our choice.
	usualNodes = 20_000
	// usualWork bounds them where there are many nodes: nodes times sets. Our choice, some
	// seconds' work.
	usualWork = 8_000_000
	// coreNodes is how many of more nodes are searched, and coreLooks at how many sets of
	// choices. Our choice: about a second's work.
	coreNodes, coreLooks = 1000, 400
	// wholeWork is how many nodes are looked at, set by set, once these are done. Our choice: one or two seconds' work.
	wholeWork = 600_000
)

func (o Options) nodes() int {
	if o.Nodes == 0 {
		return usualNodes
	}
	return max(1, o.Nodes)
}

// around searches the best set for the money left. With more than a few nodes it searches
// first among the pieces about the place where the budget ends; that settles most others.
func (p *problem) around(left float64, nodes, few int) (s *search, bound float64) {
	s = p.search(left)
	fixed := make([]Fix, len(p.members))
	pieces, bound := s.look(fixed)
	if len(p.members) <= few {
		bound, _ = s.run(effort{min(nodes, max(1, usualWork/max(1, len(p.members)))), math.MaxInt})
		return s, bound
	}
	core := slices.Clone(fixed)
	settleFar(pieces, left, core)
	best, _, _ := p.exact(left, core, effort{min(nodes, coreLooks), coreLooks * coreNodes})
	s.keep(best)
	s.settle(pieces, fixed, bound, left)
	bound, _ = s.run(effort{nodes, wholeWork})
	return s, bound
}

// useless says that a piece is worth nothing.
func (p piece) useless() bool { return p.value < 0 || p.value == 0 && p.cost > 0 }

// whole is how many of the first pieces fit into what is left, and are worth something.
func whole(pieces []piece, left float64) (at int) {
	for at < len(pieces) && !pieces[at].useless() && pieces[at].cost <= left {
		left -= pieces[at].cost
		at++
	}
	return at
}

// settleFar fixes pieces in that lie so many nodes before the place where the budget ends,
// and out beyond so many after it.
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

// Curve returns the choice for each of some budgets, which may stand in any
// order: more budget never gives less value.
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

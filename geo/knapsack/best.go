package knapsack

import (
	"cmp"
	"slices"
)

// Best returns the set worth most of those that fit the budget and have all they
// need, or one near it: Bound says how near, Exact when it is the best. Up to
// mostExact items that are not settled, the search (search.go) goes on until it
// is the best or the time for it is over; of more, pieces far from where the
// budget ends are settled first, those worth more in and those worth less out
// (the core of Balas & Zemel, Operations Research 28(5), 1980), and the
// bound stays that of all. A budget that is met to rounding is kept.
func Best(items []Item, budget float64, opt Options) Choice {
	p := pose(items, opt.Fixed)
	left := max(0, budget-p.cost0) * (1 + met)
	pieces := p.pieces(p.all())
	chosen, bound := p.around(pieces, left, min(opt.nodes(), max(1, usualWork/max(1, len(p.members)))))
	c := p.choice(chosen)
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
)

func (o Options) nodes() int {
	if o.Nodes == 0 {
		return usualNodes
	}
	return max(1, o.Nodes)
}

// around searches the pieces about the place where the budget ends.
func (p *problem) around(pieces []piece, left float64, looks int) (chosen []bool, bound float64) {
	fixed := make([]Fix, len(p.members))
	value, at := 0.0, 0
	room := left
	for at < len(pieces) && !pieces[at].useless() && pieces[at].cost <= room {
		value, room = value+pieces[at].value, room-pieces[at].cost
		at++
	}
	bound = value
	if at < len(pieces) && !pieces[at].useless() {
		bound += pieces[at].value * room / pieces[at].cost
	}
	if len(p.members) > mostExact {
		settleFar(pieces, at, fixed)
		looks = min(looks, coreLooks)
	}
	chosen, reached, _ := p.exact(left, fixed, looks)
	if len(p.members) <= mostExact {
		bound = min(bound, reached)
	}
	return chosen, bound
}

// useless says that a piece is worth nothing.
func (p piece) useless() bool { return p.value < 0 || p.value == 0 && p.cost > 0 }

// settleFar fixes pieces in that lie so many nodes before a place, and out beyond so
// many after it.
func settleFar(pieces []piece, at int, fixed []Fix) {
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

package knapsack

import (
	"math"
	"slices"
)

// search is a branch and bound over the nodes of a graph. The branch with the highest bound is
// split in two: the node that breaks its budget is fixed in, or out, with all that follows. The
// bound is that of the linear relaxation, from the decomposition of the free nodes (Samphaiboon &
// Yamada, J. Optim. Theory Appl. 105(3), 2000, compute the same bound by Lagrange multiplier and
// cut). Each branch is also filled up to a solution.
type search struct {
	*graph
	budget float64
	best   []bool
	most   float64 // value of best
	open   []branch
	queue  heap
	seen   []int32
	stamp  int32
	work   int       // nodes looked at
	low    []float64 // scratch space for dropDear
	parts  []bool
	way    []int32
	chosen []bool // scratch space for look
	free   []int32
	order  []int32 // the nodes free at first, as ranked returns them
}

// branch is a set of choices: the fixed nodes and the bound on its value.
type branch struct {
	fixed []Fix
	bound float64
	item  int32 // node to split at; -1 where the bound is reached
}

// equal is the relative difference below which two values count as equal. Our choice: far below
// what is printed, far above rounding.
const equal = 1e-10

// beats says whether a is above b by more than rounding.
func beats(a, b float64) bool { return a > b+equal*math.Abs(b) }

// effort limits a search.
type effort struct {
	looks int // branches
	nodes int // summed over branches: free nodes and an eighth of all nodes
}

// exact searches until nothing can beat the best or the effort is spent. The nodes fixed in must
// fit the budget and include everything they need.
func (g *graph) exact(budget float64, fixed []Fix, most effort) (best []bool, bound float64, looked int) {
	s := g.search(budget)
	s.look(fixed)
	bound, looked = s.run(most)
	return s.best, bound, looked
}

// run goes on with the branches in the queue.
func (s *search) run(most effort) (bound float64, looked int) {
	for looked = 1; len(s.queue) > 0; looked += 2 {
		at := s.queue.pop()
		if !beats(-at.key, s.most) {
			break
		}
		if looked >= most.looks || s.work >= most.nodes {
			return -at.key, looked
		}
		b := &s.open[at.of]
		in, out := slices.Clone(b.fixed), b.fixed
		b.fixed = nil
		s.take(in, b.item)
		s.drop(out, b.item)
		s.look(in)
		s.look(out)
	}
	return s.most, looked
}

func (g *graph) search(budget float64) *search {
	return &search{graph: g, budget: budget, most: math.Inf(-1), seen: make([]int32, len(g.value))}
}

func (g *graph) valueOf(chosen []bool) float64 {
	var sum float64
	for n, in := range chosen {
		if in {
			sum += g.value[n]
		}
	}
	return sum
}

// take fixes a node in, with everything it needs.
func (s *search) take(fixed []Fix, n int32) { s.spread(fixed, n, In, s.needs) }

// drop fixes a node out, with everything that needs it.
func (s *search) drop(fixed []Fix, n int32) { s.spread(fixed, n, Out, s.neededBy) }

func (s *search) spread(fixed []Fix, n int32, to Fix, along [][]int32) {
	fixed[n] = to
	way := append(s.way[:0], n)
	for len(way) > 0 {
		at := way[len(way)-1]
		way = way[:len(way)-1]
		for _, next := range along[at] {
			if fixed[next] == Free {
				fixed[next] = to
				way = append(way, next)
			}
		}
	}
	s.way = way
}

// look computes a branch's bound, fills it up to a solution, and queues it if it may hold a better
// set. The pieces are valid until the next decomposition.
func (s *search) look(fixed []Fix) ([]piece, float64) {
	var value, cost float64
	s.chosen = zeroed(s.chosen, len(fixed))
	chosen := s.chosen
	for n, f := range fixed {
		if f == In {
			chosen[n] = true
			value, cost = value+s.value[n], cost+s.cost[n]
		}
	}
	left := s.budget - cost
	if left < 0 && s.best != nil {
		return nil, math.Inf(-1)
	}
	left = max(0, left)
	s.dropDear(fixed, left)
	open := s.free[:0]
	for n, f := range fixed {
		if f == Free {
			open = append(open, int32(n))
		}
	}
	s.free = open
	s.work += len(open) + len(fixed)/8 // most of the settled nodes are skipped
	if s.order == nil {
		s.order = s.ranked(open) // all branches split this one
	}
	pieces := s.apart(open, s.order)
	bound, item := s.fill(pieces, chosen, value, left)
	s.settle(pieces, fixed, bound, left)
	if item >= 0 && beats(bound, s.most) {
		s.queue.push(entry{key: -bound, of: int32(len(s.open))})
		s.open = append(s.open, branch{fixed, bound, item})
	}
	return pieces, bound
}

// keep stores a set if it is the best so far.
func (s *search) keep(chosen []bool) {
	if sum := s.valueOf(chosen); sum > s.most {
		s.best, s.most = append(s.best[:0], chosen...), sum
	}
}

// settle fixes the nodes that every set better than the best so far must have, or must lack. Take
// the piece that breaks the budget and its value per cost. A set that leaves out a node of a better
// piece, or takes one of a worse piece, falls below the bound by at least the node's cost times the
// difference in value per cost. This holds since no closed part of a piece has a higher value per
// cost than the whole piece.
func (s *search) settle(pieces []piece, fixed []Fix, bound, left float64) {
	at := 0
	for at < len(pieces) && !pieces[at].useless() && pieces[at].cost <= left {
		left -= pieces[at].cost
		at++
	}
	if at == len(pieces) || pieces[at].useless() || pieces[at].cost == 0 {
		return
	}
	mean := pieces[at].value / pieces[at].cost
	for k, p := range pieces {
		if p.cost == 0 {
			continue
		}
		off := math.Abs(p.value/p.cost - mean)
		for _, n := range p.nodes {
			switch {
			case fixed[n] != Free || beats(bound-off*s.cost[n], s.most):
			case k < at:
				s.take(fixed, n)
			case k > at:
				s.drop(fixed, n)
			}
		}
	}
}

// dropDear fixes out the nodes that do not fit together with what they need. Costs are summed along
// a forest in which each need counts only for the first node that needs it. The sum is exact where
// the needs form trees, and a lower bound elsewhere; there a walk finds the exact sum, as long as
// steps are left.
func (s *search) dropDear(fixed []Fix, left float64) {
	low, parts := s.room(len(fixed))
	steps := walkSteps
	for n := range fixed {
		if fixed[n] != Free {
			continue
		}
		low[n] += s.cost[n]
		dear := low[n] > left
		if !dear && parts[n] && steps > 0 {
			dear, steps = s.dear(fixed, int32(n), left, steps)
		}
		if dear {
			s.drop(fixed, int32(n))
			continue
		}
		first := true
		for _, by := range s.neededBy[n] {
			if fixed[by] != Free {
				continue
			}
			if first {
				low[by] += low[n]
			}
			parts[by] = parts[by] || parts[n] || !first
			first = false
		}
	}
}

// walkSteps limits the walks of one dropDear. Our choice: more than a search of mostExact nodes
// needs.
const walkSteps = 2_000_000

// room returns zeroed sums and marks by node.
func (s *search) room(n int) (low []float64, parts []bool) {
	if s.low == nil {
		s.low, s.parts = make([]float64, n), make([]bool, n)
	}
	clear(s.low)
	clear(s.parts)
	return s.low, s.parts
}

// dear says whether a node does not fit with what it needs, by a walk along its needs.
func (s *search) dear(fixed []Fix, n int32, left float64, steps int) (bool, int) {
	s.stamp++
	s.seen[n] = s.stamp
	way, cost := append(s.way[:0], n), s.cost[n]
	for at := 0; at < len(way) && cost <= left && steps > 0; at++ {
		for _, need := range s.needs[way[at]] {
			steps--
			if fixed[need] == Free && s.seen[need] != s.stamp {
				s.seen[need] = s.stamp
				way, cost = append(way, need), cost+s.cost[need]
			}
		}
	}
	s.way = way
	return cost > left, steps
}

// fill takes pieces while they fit, then single nodes, and stores the set if it is the best so far.
// It returns the bound from the pieces, and the node that breaks the budget; -1 where none does.
func (s *search) fill(pieces []piece, chosen []bool, value, left float64) (bound float64, item int32) {
	bound, item = value, -1
	room := left
	for _, p := range pieces {
		if p.useless() {
			break
		}
		if item < 0 && p.cost <= room {
			bound += p.value
		} else if item < 0 {
			bound += p.value * room / p.cost
		}
		whole := item < 0 && p.cost <= room
		room -= p.cost
		for _, n := range p.nodes {
			switch {
			case whole || s.cost[n] <= left && !s.waits(n, chosen):
				chosen[n] = true
				left -= s.cost[n]
			case item < 0:
				item = n
			}
		}
	}
	s.trim(chosen)
	s.keep(chosen)
	return bound, item
}

// trim leaves out nodes of no value that nothing chosen needs.
func (g *graph) trim(chosen []bool) {
	for n := len(chosen) - 1; n >= 0; n-- {
		needed := false
		for _, by := range g.neededBy[n] {
			needed = needed || chosen[by]
		}
		if chosen[n] && !needed && g.value[n] <= 0 {
			chosen[n] = false
		}
	}
}

// waits says whether a node needs one that is not chosen.
func (g *graph) waits(n int32, chosen []bool) bool {
	for _, need := range g.needs[n] {
		if !chosen[need] {
			return true
		}
	}
	return false
}

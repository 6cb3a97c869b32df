package flow

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"driftreach/geo"
)

// Transport describes the loss and passage of a quantity carried by the water.
type Transport struct {
	Rate  []float64   // by edge: share lost per metre, first order, >= 0
	Pass  []float64   // by edge: share that gets past its downstream end, 0 to 1
	Enter []float64   // by edge: share of its inflow that gets past its upstream end, 0 to 1; nil for all
	Share []float64   // by edge: share of the flow arriving at its upstream end; nil for the network's own. What no edge takes settles there
	Hours []geo.Hours // by edge: travel time over the whole edge; nil for none. Only Reach uses it
	Slow  []geo.Hours // by edge: a second travel time, which Reach adds up but does not limit; nil for none
	Limit geo.Hours   // longest travel time that counts; only with Hours
}

// ShareOf returns the share of the flow that an edge takes.
func (t Transport) ShareOf(n *Network, edge int32) float64 {
	if t.Share == nil {
		return n.Edges[edge].Share
	}
	return t.Share[edge]
}

// EnterOf returns the share of an edge's inflow that gets past its upstream end.
func (t Transport) EnterOf(edge int32) float64 {
	if t.Enter == nil {
		return 1
	}
	return t.Enter[edge]
}

// stays returns the share of the arrivals at a node that no edge below takes.
func (t Transport) stays(n *Network, node int32) float64 {
	out := n.Out(node)
	if t.Share == nil || len(out) == 0 {
		return 0
	}
	stays := 1.0
	for _, d := range out {
		stays -= t.Share[d]
	}
	if stays < roundedShare {
		return 0
	}
	return stays
}

// roundedShare is how far a sum of shares may differ from 1 and still count as 1. Our choice: far
// above the rounding of a sum, far below any share.
const roundedShare = 1e-9

// Validate returns an error unless every slice has one value in range for each edge of the network.
func (t Transport) Validate(n *Network) error {
	if len(t.Rate) != len(n.Edges) || len(t.Pass) != len(n.Edges) {
		return fmt.Errorf("transport has %d rates and %d passes for %d edges", len(t.Rate), len(t.Pass), len(n.Edges))
	}
	for _, given := range []struct {
		some   bool
		values int
	}{{t.Enter != nil, len(t.Enter)}, {t.Share != nil, len(t.Share)}, {t.Hours != nil, len(t.Hours)}, {t.Slow != nil, len(t.Slow)}} {
		if given.some && given.values != len(n.Edges) {
			return fmt.Errorf("transport has %d shares or travel times for %d edges", given.values, len(n.Edges))
		}
	}
	for i := range n.Edges {
		if enter := t.EnterOf(int32(i)); !(enter >= 0 && enter <= 1) {
			return fmt.Errorf("transport of edge %d is out of range: %g enters", i, enter)
		}
		if !(t.Rate[i] >= 0) || !(t.Pass[i] >= 0 && t.Pass[i] <= 1) || t.Hours != nil && !(t.Hours[i] >= 0) {
			return fmt.Errorf("transport of edge %d is out of range: rate %g, pass %g", i, t.Rate[i], t.Pass[i])
		}
	}
	return nil
}

// Source is an amount released at a place. The balance does not count sources at edge -1; the
// caller must keep them out.
type Source struct {
	Place
	Amount float64
}

// Balance is the mass balance of a sweep: Released = Settled + Held + Left.
type Balance struct{ Released, Settled, Held, Left float64 }

// Sweep is the transport of a quantity down a network: its balance in total, and amounts by edge.
type Sweep struct {
	Balance
	Inflow      []float64 // amount at the upstream end
	Outflow     []float64 // amount that reaches the downstream end, before any obstacle there
	EdgeSettled []float64 // amount settled along the edge
	EdgeHeld    []float64 // amount held at either end
}

// Sweep carries the amounts released at the sources down the network and returns the amounts
// everywhere. Along an edge dA/dx = -Rate A, and Pass applies at its downstream end. At a
// divergence each edge takes its Share, of which Enter gets in. Exact except for rounding; linear,
// and independent of the order of the sources. Transport must be valid. One pass downstream, and a
// sort of the sources.
func (n *Network) Sweep(t Transport, sources []Source) Sweep {
	edges := len(n.Edges)
	memory := make([]float64, 4*edges)
	s := Sweep{Inflow: memory[:edges], Outflow: memory[edges : 2*edges], EdgeSettled: memory[2*edges : 3*edges], EdgeHeld: memory[3*edges:]}
	start, byPlace := n.sortSources(sources)
	arriving := make([]float64, len(n.Nodes))
	var released, settled, held, left tally
	for i := range n.Edges {
		e := &n.Edges[i]
		comes := arriving[e.From] * t.ShareOf(n, int32(i))
		s.Inflow[i] = comes * t.EnterOf(int32(i))
		out := along(s.Inflow[i], t.Rate[i], float64(e.Length), byPlace[start[i]:start[i+1]], &released)
		s.Outflow[i], s.EdgeSettled[i] = out.carried, out.lost
		s.EdgeHeld[i] = comes - s.Inflow[i] + out.carried*(1-t.Pass[i])
		settled.add(s.EdgeSettled[i])
		held.add(s.EdgeHeld[i])
		if passing := out.carried * t.Pass[i]; n.outStart[e.To] == n.outStart[e.To+1] {
			left.add(passing)
		} else {
			arriving[e.To] += passing
		}
	}
	for v, arrived := range arriving {
		settled.add(arrived * t.stays(n, int32(v)))
	}
	s.Balance = Balance{released.sum(), settled.sum(), held.sum(), left.sum()}
	return s
}

// carriage is the amount still carried and the amount lost.
type carriage struct{ carried, lost float64 }

// over carries an amount over a distance.
func (c carriage) over(rate, distance float64) carriage {
	lost := -c.carried * math.Expm1(-rate*distance)
	return carriage{c.carried - lost, c.lost + lost}
}

// along carries an inflow and the sources of one edge, sorted by offset, to the
// edge's downstream end.
func along(inflow, rate, span float64, sources []Source, released *tally) carriage {
	c, at := carriage{carried: inflow}, 0.0
	for _, s := range sources {
		offset := min(max(float64(s.Offset), 0), span)
		c = c.over(rate, offset-at)
		c.carried += s.Amount
		released.add(s.Amount)
		at = offset
	}
	return c.over(rate, span-at)
}

// sortSources returns the sources sorted by edge, offset and amount, and where each edge's sources
// begin.
func (n *Network) sortSources(sources []Source) (start []int32, sorted []Source) {
	start = make([]int32, len(n.Edges)+1)
	for i := range sources {
		if e := sources[i].Edge; e >= 0 {
			start[e+1]++
		}
	}
	for i := range n.Edges {
		start[i+1] += start[i]
	}
	sorted = make([]Source, start[len(n.Edges)])
	fill := append([]int32(nil), start...)
	for _, s := range sources {
		if s.Edge >= 0 {
			sorted[fill[s.Edge]] = s
			fill[s.Edge]++
		}
	}
	for i := range n.Edges {
		if part := sorted[start[i]:start[i+1]]; len(part) > 1 {
			slices.SortFunc(part, func(a, b Source) int {
				return cmp.Or(cmp.Compare(a.Offset, b.Offset), cmp.Compare(a.Amount, b.Amount))
			})
		}
	}
	return start, sorted
}

// tally is a compensated sum (Neumaier 1974).
type tally struct{ total, rest float64 }

// add adds x.
func (t *tally) add(x float64) {
	s := t.total + x
	if math.Abs(t.total) >= math.Abs(x) {
		t.rest += (t.total - s) + x
	} else {
		t.rest += (x - s) + t.total
	}
	t.total = s
}

// sum returns the sum.
func (t *tally) sum() float64 { return t.total + t.rest }

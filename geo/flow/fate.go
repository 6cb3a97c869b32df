package flow

import "math"

// Fate gives, for every edge, what becomes of one unit at its upstream end: the shares held and
// left; the rest settles. It is Sweep run upstream, so one pass gives every source its own mass
// balance.
type Fate struct {
	Held, Left []float64 // by edge
	rate, span []float64
	below      []carriedOn
}

// carriedOn is the fate of one unit at the downstream end of an edge.
type carriedOn struct{ held, left float64 }

// Fate returns what becomes of one unit released at any edge. Transport must be valid. One pass
// upstream.
func (n *Network) Fate(t Transport) Fate {
	edges := len(n.Edges)
	f := Fate{Held: make([]float64, edges), Left: make([]float64, edges), rate: t.Rate, span: make([]float64, edges), below: make([]carriedOn, edges)}
	onward := make([]carriedOn, len(n.Nodes)) // fate of what arrives at a node
	for i := edges - 1; i >= 0; i-- {
		e := &n.Edges[i]
		pass := t.Pass[i]
		c := carriedOn{held: 1 - pass + pass*onward[e.To].held, left: pass * onward[e.To].left}
		if len(n.Out(e.To)) == 0 {
			c.left = pass
		}
		f.below[i], f.span[i] = c, float64(e.Length)
		afloat := math.Exp(-t.Rate[i] * f.span[i])
		f.Held[i], f.Left[i] = afloat*c.held, afloat*c.left
		share, enter := t.ShareOf(n, int32(i)), t.EnterOf(int32(i))
		onward[e.From].held += share * (1 - enter + enter*f.Held[i])
		onward[e.From].left += share * enter * f.Left[i]
	}
	return f
}

// From returns the mass balance of one unit released at a place.
func (f Fate) From(p Place) Balance {
	afloat := math.Exp(-f.rate[p.Edge] * max(0, f.span[p.Edge]-float64(p.Offset)))
	c := f.below[p.Edge]
	held, left := afloat*c.held, afloat*c.left
	return Balance{Released: 1, Settled: 1 - held - left, Held: held, Left: left}
}

package flow

import (
	"math"

	"driftreach/geo"
	"driftreach/geo/disjoint"
)

// Lanes is how many transports a DeltaWalker follows at once. Our choice: 8 numbers fill a line of a
// processor's cache.
const Lanes = 8

// Shares is a share for each of the transports that are followed at once.
type Shares [Lanes]float64

// Delta is the part of a network below places where the water divides, in a form in which many releases
// are followed fast: its nodes and edges, here legs, have numbers of their own, upstream first. It is
// read-only and safe for concurrent use.
type Delta struct {
	n     *Network
	t     Transport
	local []int32 // by node of the network: its number here, -1 for none
	first []int32 // by node here: its legs are legs[first[v]:first[v+1]]
	legs  []deltaLeg
	order []int32 // legs in the order of their edges
	held  int     // how many legs hold something at their lower ends
	gated int     // how many hold something at their upper ends
}

// deltaLeg is an edge of a delta.
type deltaLeg struct {
	edge, to    int32 // of the network; node here, -1 where nothing needed lies below
	held, enter int32 // 1 + its number among those that hold something at the lower and at the upper end; 0 for none
	share       float64
}

// NewDelta returns the part of a network below some nodes, as far as it leads to edges that a release
// may reach. far says by edge whether one may. Linear in the edges of the network.
func (n *Network) NewDelta(t Transport, nodes []int32, far []bool) *Delta {
	d := &Delta{n: n, t: t, local: make([]int32, len(n.Nodes))}
	below, leads := make([]bool, len(n.Nodes)), make([]bool, len(n.Nodes))
	for _, v := range nodes {
		below[v] = true
	}
	in := make([]bool, len(n.Edges))
	for e := range n.Edges {
		if edge := &n.Edges[e]; below[edge.From] && t.ShareOf(n, int32(e)) > 0 {
			in[e], below[edge.To] = true, true
		}
	}
	for e := len(n.Edges) - 1; e >= 0; e-- {
		edge := &n.Edges[e]
		in[e] = in[e] && (far[e] || leads[edge.To])
		leads[edge.From] = leads[edge.From] || in[e]
	}
	d.number(in)
	return d
}

// number fills in the nodes and legs of the edges that are in the delta. An edge that enters a node comes
// before all that leave it, so that nodes by their first edge are in flow order.
func (d *Delta) number(in []bool) {
	for v := range d.local {
		d.local[v] = -1
	}
	nodes, edges := int32(0), []int32(nil)
	for e := range d.n.Edges {
		if !in[e] {
			continue
		}
		edges = append(edges, int32(e))
		if from := &d.local[d.n.Edges[e].From]; *from < 0 {
			*from = nodes
			nodes++
		}
	}
	first, list := disjoint.Group(int(nodes), len(edges), func(i int) int32 { return d.local[d.n.Edges[edges[i]].From] })
	d.first, d.legs, d.order = first, make([]deltaLeg, len(edges)), make([]int32, len(edges))
	for leg, i := range list {
		d.legs[leg], d.order[i] = d.leg(edges[i]), int32(leg)
	}
}

// leg returns an edge as a leg.
func (d *Delta) leg(e int32) deltaLeg {
	l := deltaLeg{edge: e, to: d.local[d.n.Edges[e].To], share: d.t.ShareOf(d.n, e)}
	if d.t.Pass[e] < 1 {
		d.held++
		l.held = int32(d.held)
	}
	if d.t.EnterOf(e) < 1 {
		d.gated++
		l.enter = int32(d.gated)
	}
	return l
}

// Legs returns the legs, ordered by edge. Callers must not change them.
func (d *Delta) Legs() []int32 { return d.order }

// Edge returns the edge of a leg.
func (d *Delta) Edge(leg int32) int32 { return d.legs[leg].edge }

// Variant is a transport that differs from a delta's: every rate divided by Longer, and every share below 1
// that passes or enters as Passes makes it of the delta's.
type Variant struct {
	Longer float64
	Passes func(share float64) float64
}

// DeltaWalker follows releases down a delta by several transports at once. It holds the working memory of
// one worker.
type DeltaWalker struct {
	*Delta
	floor    float64
	variants []Variant
	whole    []lanes  // by leg: the share left at its lower end
	through  []lanes  // by leg that holds something there: the share that passes
	enter    []Shares // by leg that holds something at its upper end: the share that enters
	at       []lanes  // by node: the shares that arrive of one release; 0 between releases
	open     marks    // nodes where something arrives

	starts  []start
	starter []int32 // by node: 1 + its number in starts, 0 for none
	reached []Reached
	slot    []int32 // by leg: 1 + its number in reached, 0 for none
}

// lanes is a share for each transport, and a number that none of them is above.
type lanes struct {
	share Shares
	most  float64
}

// start is what arrives at a node of releases whose reach is asked for.
type start struct {
	node  int32
	share Shares
}

// Reached is a leg, and the largest share of one release that arrives at its upper end.
type Reached struct {
	Leg   int32
	Share Shares
}

// NewWalker returns a walker that follows a release as long as a share of floor, above 0, may be afloat
// anywhere. Memory is about 150 bytes for each leg.
func (d *Delta) NewWalker(floor float64) *DeltaWalker {
	nodes := len(d.first) - 1
	return &DeltaWalker{
		Delta: d, floor: floor, whole: make([]lanes, len(d.legs)), through: make([]lanes, d.held), enter: make([]Shares, d.gated),
		at: make([]lanes, nodes), open: newMarks(nodes), starter: make([]int32, nodes), slot: make([]int32, len(d.legs)),
	}
}

// Set sets up to Lanes transports. A Variant that is zero, and one that is not given, carries nothing.
func (w *DeltaWalker) Set(variants []Variant) {
	w.variants = variants
	for i := range w.legs {
		l := &w.legs[i]
		var whole, through lanes
		var enter Shares
		for k, v := range variants {
			if !(v.Longer > 0) {
				continue
			}
			whole.set(k, math.Exp(-w.t.Rate[l.edge]/v.Longer*float64(w.n.Edges[l.edge].Length)))
			if l.held > 0 {
				through.set(k, whole.share[k]*v.Passes(w.t.Pass[l.edge]))
			}
			if l.enter > 0 {
				enter[k] = v.Passes(w.t.EnterOf(l.edge))
			}
		}
		w.whole[i] = whole
		if l.held > 0 {
			w.through[l.held-1] = through
		}
		if l.enter > 0 {
			w.enter[l.enter-1] = enter
		}
	}
}

// set sets a share and keeps the largest.
func (l *lanes) set(k int, share float64) {
	l.share[k] = share
	l.most = max(l.most, share)
}

// Start adds a release, of which a share arrives at a node by one of the transports. Of several at one node
// the largest counts.
func (w *DeltaWalker) Start(lane int, node int32, share float64) {
	v := w.local[node]
	if v < 0 || share < w.floor {
		return
	}
	if w.starter[v] == 0 {
		w.starts = append(w.starts, start{node: v})
		w.starter[v] = int32(len(w.starts))
	}
	of := &w.starts[w.starter[v]-1].share[lane]
	*of = max(*of, share)
}

// Follow takes the releases started since the last call down the delta, each alone. Each branch takes its
// part of the flow, and parts that meet again add up. It returns the legs where a share of the floor of one
// release may be afloat. They are valid until the next call. Time is about 3 ns for each transport and leg
// to which a release may get before all of it that is still on its way is below the floor.
func (w *DeltaWalker) Follow() []Reached {
	for _, r := range w.reached {
		w.slot[r.Leg] = 0
	}
	w.reached = w.reached[:0]
	for i := range w.starts {
		s := &w.starts[i]
		w.starter[s.node] = 0
		w.follow(s)
	}
	w.starts = w.starts[:0]
	return w.reached
}

// faint is the part of the floor below which what goes down one branch is let go. Our choice: a hundredth
// of what the rounding of a sum near the floor may be.
const faint = 1e-18

// follow takes one release down the delta, node by node in flow order.
func (w *DeltaWalker) follow(s *start) {
	first := &w.at[s.node]
	for k, share := range s.share {
		first.set(k, share)
	}
	w.open.add(s.node)
	afloat := first.most // no transport has more on its way
	for v := w.open.take(s.node); v >= 0; v = w.open.take(v + 1) {
		at := &w.at[v]
		if afloat >= w.floor*almost {
			for i := w.first[v]; i < w.first[v+1]; i++ {
				afloat += w.down(i, at)
			}
		}
		afloat -= at.most
		*at = lanes{}
	}
}

// down takes what is at a leg's upper node to its lower node. It returns what no transport has more of
// there.
func (w *DeltaWalker) down(i int32, from *lanes) float64 {
	l := &w.legs[i]
	in := from.share
	for k := range in {
		in[k] *= l.share
	}
	if l.enter > 0 {
		for k, enter := range w.enter[l.enter-1] {
			in[k] *= enter
		}
	}
	most := from.most * l.share
	if most >= w.floor*almost {
		w.reach(i, &in)
	}
	if l.to < 0 {
		return 0
	}
	left := &w.whole[i]
	if l.held > 0 {
		left = &w.through[l.held-1]
	}
	if most *= left.most; most < w.floor*faint {
		return 0
	}
	to := &w.at[l.to]
	if to.most == 0 {
		w.open.add(l.to)
	}
	to.most += most
	for k, share := range in {
		to.share[k] += share * left.share[k]
	}
	return most
}

// reach notes what arrives at a leg.
func (w *DeltaWalker) reach(i int32, share *Shares) {
	if w.slot[i] == 0 {
		w.reached = append(w.reached, Reached{Leg: i, Share: *share})
		w.slot[i] = int32(len(w.reached))
		return
	}
	w.reached[w.slot[i]-1].Share.Raise(share)
}

// Raise sets each share to the larger of two.
func (s *Shares) Raise(to *Shares) {
	for k, share := range to {
		s[k] = max(s[k], share)
	}
}

// End returns how far down a leg a share gets that arrives at its upper end by one of the transports: 0 if
// it is below the floor, and the edge's length where it gets there.
func (w *DeltaWalker) End(lane int, leg int32, share float64) geo.Meters {
	if share < w.floor {
		return 0
	}
	e := w.legs[leg].edge
	length := w.n.Edges[e].Length
	if share*w.whole[leg].share[lane] >= w.floor {
		return length
	}
	return min(length, geo.Meters(math.Log(share/w.floor)/(w.t.Rate[e]/w.variants[lane].Longer)))
}

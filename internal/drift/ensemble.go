package drift

import (
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// ensemble is the part common to all draws of a batch.
type ensemble struct {
	net      *flow.Network
	base     flow.Transport // with the settings as set
	mean     []geo.Hours    // by edge
	floor    geo.Share      // the risk share
	moderate Amount         // the amount afloat from which exposure is moderate
	u        Uncertain
	samples  []sample
	sources  []Source // by place
	lakes    *lakes
	ways     []way          // by stand
	single   []int32        // stands that must be followed in each draw
	parted   []int32        // those of them below which the flow divides
	delta    *flow.Delta    // what lies below there; nil if there is none
	aged     bool           // the age limit can end a reach
	young    bool           // nothing becomes too old in any draw
	widest   flow.Transport // only while stands are chosen

	legs        []leg        // by edge
	below       []int32      // edges with a source on them or above them, in flow order
	legsOnLakes []int32      // edges
	lakeMeters  []geo.Meters // by lake: the length of its edges
	forks       []bool       // by node: the flow divides there; nil where it divides nowhere
}

// newEnsemble returns the ensemble of u for its sources in flow order.
func newEnsemble(net *stream.Network, s Settings, u Uncertain, sources []Source) *ensemble {
	base, times := transport(net, s)
	sources, _ = onWater(sources, dry(net, s))
	p := &ensemble{
		net: net.Net, base: base, mean: times.mean, floor: s.RiskShare, moderate: s.ExposureBreaks[0], u: u, samples: u.Spread.samples(),
		sources: sources, lakes: newLakes(net),
	}
	p.ways = make([]way, u.Released.Stands)
	for stand, sources := range numbersByStand(p.sources, u.Released.Stands) {
		p.ways[stand].sources = sources
	}
	p.level()
	p.descendFromSources()
	p.widen()
	p.choose()
	p.part()
	p.widest = flow.Transport{} // its loss is the set one over the longest half-distance
	return p
}

// byStand returns the sources of each stand, in the given order. All lists share one array.
func byStand(sources []Source, stands int) [][]Source {
	sizes := make([]int, stands)
	for _, src := range sources {
		sizes[src.Stand]++
	}
	all, out := make([]Source, 0, len(sources)), make([][]Source, stands)
	for stand, n := range sizes {
		first := len(all)
		all = all[:first+n]
		out[stand] = all[first:first:len(all)]
	}
	for _, src := range sources {
		out[src.Stand] = append(out[src.Stand], src)
	}
	return out
}

// numbersByStand returns the sources of each stand by their numbers, ascending. All lists share one array.
func numbersByStand(sources []Source, stands int) [][]int32 {
	sizes := make([]int, stands)
	for i := range sources {
		sizes[sources[i].Stand]++
	}
	all, out := make([]int32, len(sources)), make([][]int32, stands)
	first := 0
	for stand, n := range sizes {
		out[stand] = all[first : first : first+n]
		first += n
	}
	for i := range sources {
		stand := sources[i].Stand
		out[stand] = append(out[stand], int32(i))
	}
	return out
}

// level fills in the legs.
func (p *ensemble) level() {
	p.legs = make([]leg, len(p.net.Edges))
	for e := range p.legs {
		edge := &p.net.Edges[e]
		p.legs[e] = leg{
			from: edge.From, to: edge.To, lake: -1, length: edge.Length, rate: PerMeter(p.base.Rate[e]),
			share: geo.Share(p.base.ShareOf(p.net, int32(e))), enter: geo.Share(p.base.EnterOf(int32(e))), pass: geo.Share(p.base.Pass[e]),
		}
		if share := p.legs[e].share; share > 0 && share < 1 {
			if p.forks == nil {
				p.forks = make([]bool, len(p.net.Nodes))
			}
			p.forks[edge.From] = true
		}
	}
	if p.lakes == nil {
		return
	}
	p.lakeMeters = make([]geo.Meters, len(p.lakes.edges))
	for on, edges := range p.lakes.edges {
		for _, e := range edges {
			p.legs[e].lake = int32(on)
			p.lakeMeters[on] += p.legs[e].length
			p.legsOnLakes = append(p.legsOnLakes, e)
		}
	}
}

// descendFromSources lists the edges on which anything may be afloat.
func (p *ensemble) descendFromSources() {
	reached := make([]bool, len(p.net.Nodes))
	sources := p.sources
	for e := range p.legs {
		l := &p.legs[e]
		own := takeEdge(&sources, int32(e), func(s *Source) int32 { return s.Place.Edge })
		if len(own) > 0 || reached[l.from] {
			p.below = append(p.below, int32(e))
			reached[l.to] = true
		}
	}
}

// counts says whether a source is in the zone in a sample.
func (p *ensemble) counts(src *Source, s sample) bool {
	return src.Bank <= p.u.Setback+s.setback
}

// widen makes the transport that reaches farthest in any draw.
func (p *ensemble) widen() {
	half, most := float64(p.longest()), 1+float64(p.u.Spread.PassSpread)
	p.widest = flow.Transport{Rate: make([]float64, len(p.base.Rate)), Pass: make([]float64, len(p.base.Pass)), Enter: slices.Clone(p.base.Enter), Share: p.base.Share}
	for e := range p.base.Rate {
		p.widest.Rate[e] = p.base.Rate[e] / half
		p.widest.Pass[e] = min(1, p.base.Pass[e]*most)
		if p.base.Enter != nil {
			p.widest.Enter[e] = min(1, p.base.Enter[e]*most)
		}
	}
	p.aged = outlive(p.net, p.widest, p.base.Hours, p.base.Limit) >= p.floor
	p.young = outlive(p.net, p.widest, p.mean, p.base.Limit) < min(negligible, p.floor)
}

// longest is the largest factor on half-distance in any draw.
func (p *ensemble) longest() Factor {
	half := Factor(1)
	for _, s := range p.samples {
		half = max(half, s.half)
	}
	return half
}

// choose lists the stands that must be followed in each draw: those with a barrier, a lake or a
// division of the flow within the farthest reach, or all stands where the age limit can end a
// reach. It looks no farther than to the first places where the flow divides.
func (p *ensemble) choose() {
	walker, undivided := p.net.NewWalker(), p.untilDivided()
	var places []flow.Place
	var edges []int32
	reached := make([]bool, len(p.net.Nodes))
	for stand := range p.ways {
		w := &p.ways[stand]
		if len(w.sources) == 0 {
			continue
		}
		places = places[:0]
		for _, i := range w.sources {
			places = append(places, p.sources[i].Place)
		}
		pieces := p.net.Reach(undivided, places, flow.Bound{Floor: float64(p.floor)}, walker)
		edges = edgesOf(edges[:0], pieces, places)
		if w.parts = p.forksAfter(pieces, places); w.parts {
			edges = p.undivided(edges, w.sources, reached)
			p.parted = append(p.parted, int32(stand))
		}
		w.edges = slices.Clone(edges) // a copy without spare capacity
		barrier := slices.ContainsFunc(pieces, func(piece flow.Piece) bool {
			return p.heldAt(flow.Place{Edge: piece.Edge, Offset: piece.To}) || piece.From == 0 && p.base.EnterOf(piece.Edge) < 1
		}) || slices.ContainsFunc(places, p.heldAt)
		if p.aged || barrier || p.lakes.meets(pieces) || w.parts {
			p.single = append(p.single, int32(stand))
		}
	}
}

// untilDivided is the transport that reaches farthest, but no farther than to places where the flow
// divides.
func (p *ensemble) untilDivided() flow.Transport {
	t := p.widest
	if p.forks == nil {
		return t
	}
	t.Share = make([]float64, len(p.legs))
	for e := range p.legs {
		if p.legs[e].share == 1 {
			t.Share[e] = 1
		}
	}
	return t
}

// forksAfter reports whether anything gets to a place where the flow divides, over pieces or from a place at
// the lower end of an edge.
func (p *ensemble) forksAfter(pieces []flow.Piece, places []flow.Place) bool {
	if p.forks == nil {
		return false
	}
	gets := func(edge int32, to geo.Meters, share float64) bool {
		return p.forks[p.legs[edge].to] && to >= p.legs[edge].length && share*p.widest.Pass[edge] >= float64(p.floor)
	}
	return slices.ContainsFunc(pieces, func(piece flow.Piece) bool { return gets(piece.Edge, piece.To, piece.ShareTo) }) ||
		slices.ContainsFunc(places, func(at flow.Place) bool { return gets(at.Edge, at.Offset, 1) })
}

// part makes the delta: what lies below the first places where the flow divides, as far as one release may
// reach it in any draw.
func (p *ensemble) part() {
	if len(p.parted) == 0 {
		return
	}
	var nodes []int32
	for _, stand := range p.parted {
		for _, e := range p.ways[stand].edges {
			if to := p.legs[e].to; p.forks[to] {
				nodes = append(nodes, to)
			}
		}
	}
	p.delta = p.net.NewDelta(p.base, nodes, p.far())
}

// far says by edge whether a share of one release that is above the risk share may come to its upper end in
// any draw, along the best path with the flow not divided: where it is, it is divided only to be less.
func (p *ensemble) far() []bool {
	cost, out, limit := slices.Repeat([]toll{never}, len(p.net.Nodes)), make([]bool, len(p.legs)), tollOf(p.floor)*(1+roundedToll)
	sources := p.sources
	for _, e := range p.below {
		l, at, top := &p.legs[e], geo.Meters(0), never
		if l.share > 0 {
			top = cost[l.from] + tollOf(geo.Share(p.widest.EnterOf(e)))
		}
		out[e] = top <= limit
		if own := takeEdge(&sources, e, func(s *Source) int32 { return s.Place.Edge }); len(own) > 0 {
			top, at = 0, own[len(own)-1].Place.Offset
		}
		cost[l.to] = min(cost[l.to], top+PerMeter(p.widest.Rate[e]).toll(l.length-at)+tollOf(geo.Share(p.widest.Pass[e])))
	}
	return out
}

// roundedToll is the part by which a toll may be rounded. Our choice, far above the rounding of a sum.
const roundedToll = 1e-9

// undivided keeps of a way's edges those above the first places where the flow divides: with a source on
// them, or reached from one by edges that take the whole flow. reached is false at every node, also
// afterwards.
func (p *ensemble) undivided(edges, sources []int32, reached []bool) []int32 {
	kept := edges[:0]
	for _, e := range edges {
		l, own := &p.legs[e], false
		for ; len(sources) > 0 && p.sources[sources[0]].Place.Edge == e; sources = sources[1:] {
			own = true
		}
		if own || reached[l.from] && l.share == 1 {
			kept = append(kept, e)
			reached[l.to] = true
		}
	}
	for _, e := range kept {
		reached[p.legs[e].to] = false
	}
	return kept
}

// edgesOf appends to out, which is empty, the edges of some pieces and places, ascending.
func edgesOf(out []int32, pieces []flow.Piece, places []flow.Place) []int32 {
	for _, p := range pieces {
		out = append(out, p.Edge)
	}
	for _, at := range places {
		out = append(out, at.Edge)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// heldAt says whether a place is at a barrier.
func (p *ensemble) heldAt(at flow.Place) bool {
	return p.base.Pass[at.Edge] < 1 && at.Offset >= p.net.Edges[at.Edge].Length
}

func placesOf(sources []Source) []flow.Place {
	places := make([]flow.Place, len(sources))
	for i, s := range sources {
		places[i] = s.Place
	}
	return places
}

// leg is an edge in the form used by all draws.
type leg struct {
	from, to           int32 // nodes
	lake               int32 // -1 for none
	length             geo.Meters
	rate               PerMeter
	share, enter, pass geo.Share
}

// way is the stream reached by one stand or by several together.
type way struct {
	sources []int32 // numbers in the sources of the ensemble, ascending, and so by place
	edges   []int32 // on its farthest reach in any draw, in flow order; where the flow divides, those above that
	parts   bool    // the flow divides on it
}

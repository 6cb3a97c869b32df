package drift

import (
	"math"

	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// ExposureOn returns what floats on each of some pieces of the network that d was made
// with: the amount afloat summed over every kilometre of the piece, released units times
// km. Pieces are sorted by edge. Those that cover the network once come to the exposure
// of all stands together. What comes to a lake may be blown to any of its shores: it is
// spread over all of the lake's edges by their length. Linear in pieces and sources.
func (d *Drift) ExposureOn(net *stream.Network, pieces []flow.Piece) []float64 {
	x := d.afloat
	out := make([]float64, len(pieces))
	still := d.onLakes(net.Net)
	sources, drops := x.sources, x.drops
	var known []stretch
	all := pieces
	for e := range net.Net.Edges {
		own := takeEdge(&sources, int32(e), func(s *Source) int32 { return s.Place.Edge })
		dropped := takeEdge(&drops, int32(e), func(d *drop) int32 { return d.at.Edge })
		here := takeEdge(&pieces, int32(e), func(p *flow.Piece) int32 { return p.Edge })
		at := len(all) - len(pieces) - len(here)
		switch {
		case len(here) == 0:
		case still != nil && x.lakes.of[e] >= 0:
			for i, p := range here {
				out[at+i] = still[x.lakes.of[e]] * float64((p.To - p.From).Kilometers())
			}
		case x.inflow[e] > 0 || len(own) > 0:
			known = levels(known[:0], &net.Net.Edges[e], x.rate[e], x.inflow[e], own, dropped)
			for i, p := range here {
				out[at+i] = exposureOf(known, x.rate[e], p)
			}
		}
	}
	return out
}

// exposureOf sums the amounts of an edge's levels over one piece of it.
func exposureOf(levels []stretch, rate float64, p flow.Piece) float64 {
	sum := 0.0
	for _, l := range levels {
		from, to := max(p.From, l.from), min(p.To, l.to)
		if from < to && l.amount > 0 {
			sum += l.amount * math.Exp(-rate*float64(from-l.from)) * exposureFrom(rate, float64(to-from), 0)
		}
	}
	return sum
}

// onLakes returns, by lake, the mean amount afloat on it; nil where there is none.
func (d *Drift) onLakes(net *flow.Network) []float64 {
	x := d.afloat
	if x.lakes == nil {
		return nil
	}
	sum, km := make([]float64, len(x.lakes.edges)), make([]float64, len(x.lakes.edges))
	sources, drops := x.sources, x.drops
	var known []stretch
	for e, on := range x.lakes.of {
		own := takeEdge(&sources, int32(e), func(s *Source) int32 { return s.Place.Edge })
		dropped := takeEdge(&drops, int32(e), func(d *drop) int32 { return d.at.Edge })
		if on < 0 {
			continue
		}
		edge := &net.Edges[e]
		known = levels(known[:0], edge, x.rate[e], x.inflow[e], own, dropped)
		sum[on] += exposureOf(known, x.rate[e], flow.Piece{Edge: int32(e), To: edge.Length})
		km[on] += float64(edge.Length.Kilometers())
	}
	for on := range sum {
		if km[on] > 0 {
			sum[on] /= km[on]
		}
	}
	return sum
}

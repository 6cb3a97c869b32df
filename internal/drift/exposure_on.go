package drift

import (
	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// ExposureOn returns the amount afloat summed over every kilometre of each
// piece, on the network d was made with. Pieces must be sorted by edge. Pieces that cover the network
// once add up to the exposure of all stands together. The wind may blow what enters a lake to any of
// its shores, so it is spread over all of the lake's edges by their length. Linear in pieces and
// sources.
func (d *Drift) ExposureOn(net *stream.Network, pieces []flow.Piece) []AmountKm {
	out := make([]AmountKm, 0, len(pieces))
	exposures := d.Exposures(net)
	for len(pieces) > 0 {
		here := takeEdge(&pieces, pieces[0].Edge, func(p *flow.Piece) int32 { return p.Edge })
		out = exposures.Append(out, here)
	}
	return out
}

// Exposures computes ExposureOn one edge at a time, for callers that do not hold all pieces at
// once. It is for one worker.
type Exposures struct {
	of    *afloat
	net   *flow.Network
	still []Amount // by lake: the mean amount afloat on it
	known []stretch
}

// Exposures returns a reader of exposures for the network that d was made with.
func (d *Drift) Exposures(net *stream.Network) *Exposures {
	return &Exposures{of: &d.afloat, net: net.Net, still: d.onLakes(net.Net)}
}

// Append appends to out the exposure of each of some pieces, all of one edge.
func (x *Exposures) Append(out []AmountKm, pieces []flow.Piece) []AmountKm {
	if len(pieces) == 0 {
		return out
	}
	e := pieces[0].Edge
	if x.still != nil && x.of.lakes.of[e] >= 0 {
		amount := x.still[x.of.lakes.of[e]]
		for _, p := range pieces {
			out = append(out, amount.Over((p.To - p.From).Kilometers()))
		}
		return out
	}
	own := piecesOf(x.of.entered, e, func(d drop) int32 { return d.at.Edge })
	if !(x.of.inflow[e] > 0) && len(own) == 0 {
		return append(out, make([]AmountKm, len(pieces))...)
	}
	dropped := piecesOf(x.of.drops, e, func(d drop) int32 { return d.at.Edge })
	x.known = levels(x.known[:0], &x.net.Edges[e], x.of.rate.on(e), x.of.inflow[e], own, dropped)
	for _, p := range pieces {
		out = append(out, exposureOf(x.known, x.of.rate.on(e), p))
	}
	return out
}

// exposureOf sums the amounts of an edge's levels over one piece of it.
func exposureOf(levels []stretch, rate PerMeter, p flow.Piece) AmountKm {
	sum := AmountKm(0)
	for _, l := range levels {
		from, to := max(p.From, l.from), min(p.To, l.to)
		if from < to && l.amount > 0 {
			sum += l.amount.part(rate.left(from - l.from)).Over(exposureFrom(rate, to-from, 0))
		}
	}
	return sum
}

// onLakes returns, by lake, the mean amount afloat on it; nil where there is none.
func (d *Drift) onLakes(net *flow.Network) []Amount {
	x := d.afloat
	if x.lakes == nil {
		return nil
	}
	sum, km := make([]AmountKm, len(x.lakes.edges)), make([]geo.Kilometers, len(x.lakes.edges))
	entered, drops := x.entered, x.drops
	var known []stretch
	for e, on := range x.lakes.of {
		own := takeEdge(&entered, int32(e), func(d *drop) int32 { return d.at.Edge })
		dropped := takeEdge(&drops, int32(e), func(d *drop) int32 { return d.at.Edge })
		if on < 0 {
			continue
		}
		edge := &net.Edges[e]
		known = levels(known[:0], edge, x.rate.on(int32(e)), x.inflow[e], own, dropped)
		sum[on] += exposureOf(known, x.rate.on(int32(e)), flow.Piece{Edge: int32(e), To: edge.Length})
		km[on] += edge.Length.Kilometers()
	}
	mean := make([]Amount, len(sum))
	for on := range sum {
		if km[on] > 0 {
			mean[on] = sum[on].Per(km[on])
		}
	}
	return mean
}

package drift

import (
	"cmp"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// Afloat carries the fragments of every stand downstream as Follow does, but computes only what
// ExposureOn needs. It is one pass over the network; no stand is followed alone.
func Afloat(net *stream.Network, released Released, s Settings) Drift {
	sources, _ := onWater(released.inFlowOrder(), dry(net, s))
	transport, times := transport(net, s)
	d, lakes := Drift{}, newLakes(net)
	load := d.settle(net.Net, transport, times, Released{Stands: released.Stands, Sources: sources})
	d.afloat = afloat{load: load, rate: losses(transport.Rate), entered: appendEntering(make([]drop, 0, len(sources)), sources), times: lakes.landing(times), lakes: lakes}
	return d
}

// AtRisk says whether a place lies on the reach at risk of all stands together.
func (d *Drift) AtRisk(at flow.Place) bool {
	return slices.ContainsFunc(piecesOf(d.risk, at.Edge, func(r riskOn) int32 { return r.edge }), func(r riskOn) bool {
		return at.Offset >= r.from && at.Offset <= r.to
	})
}

// ClassOf returns the class of an amount afloat.
func (s Settings) ClassOf(amount Amount) Class { return s.class(amount) }

// Against returns the amount that would reach each of the pieces if everything spread upstream at
// the rates at which it floats downstream: halved over every half-distance, divided equally where
// streams meet, with barriers ignored. Units are those of ExposureOn. It is a standard of
// comparison for spread without floating, which goes upstream and downstream alike. Pieces must be
// sorted by edge. Linear in edges, pieces and sources, except for the sources on a piece's own
// edge.
func Against(net *stream.Network, released Released, s Settings, pieces []flow.Piece) []AmountKm {
	sources := released.inFlowOrder()
	edges := net.Net.Edges
	below := make([]Amount, len(edges))           // by edge: what arrives at its lower end
	arrived := make([]Amount, len(net.Net.Nodes)) // by node, from below
	for e := len(edges) - 1; e >= 0; e-- {
		edge := &edges[e]
		rate := s.rate(net.Order[e])
		if in := net.Net.In(edge.To); len(in) > 0 {
			below[e] = arrived[edge.To] / Amount(len(in))
		}
		up := below[e].part(rate.left(edge.Length))
		for _, one := range sourcesOn(sources, int32(e)) {
			up += one.Amount.part(rate.left(one.Place.Offset))
		}
		arrived[edge.From] += up
	}
	out := make([]AmountKm, len(pieces))
	for i, p := range pieces {
		edge, rate := &edges[p.Edge], s.rate(net.Order[p.Edge])
		// adds the exposure on the piece upstream of measure x, from an amount that passes x
		on := func(amount Amount, x geo.Meters) {
			from, to := p.From, min(p.To, x)
			if to > from {
				out[i] += AmountKm(amount.part(rate.left(x-to)-rate.left(x-from)) / Amount(rate) / 1000)
			}
		}
		on(below[p.Edge], edge.Length)
		for _, one := range sourcesOn(sources, p.Edge) {
			on(one.Amount, one.Place.Offset)
		}
	}
	return out
}

// sourcesOn returns the sources of one edge; they are sorted by place.
func sourcesOn(sources []Source, edge int32) []Source {
	by := func(s Source, edge int32) int { return cmp.Compare(s.Place.Edge, edge) }
	first, _ := slices.BinarySearchFunc(sources, edge, by)
	last, _ := slices.BinarySearchFunc(sources, edge+1, by)
	return sources[first:last]
}

// Scaled returns the settings with every half-distance multiplied by a factor.
func (s Settings) Scaled(by Factor) Settings {
	s.HalfDistanceByOrder = slices.Clone(s.HalfDistanceByOrder)
	for i := range s.HalfDistanceByOrder {
		s.HalfDistanceByOrder[i] *= geo.Kilometers(by)
	}
	return s
}

// Upstream returns the stream above a place from which at least a share of a release would
// still be afloat at the place, on every branch, with barriers ignored: where an unknown
// source may lie. In a braid the way with the least loss counts. The nearest pieces come first.
// Cost is linear in the edges returned, more in a braid.
func Upstream(net *stream.Network, at flow.Place, share geo.Share, s Settings) []flow.Piece {
	type way struct {
		edge  int32
		lower geo.Meters // measure on the edge where the search upstream starts
		left  toll       // what is left of the share's
	}
	met := map[int32]int{}   // by edge: its piece in out
	best := map[int32]toll{} // by edge: the most that is left at its upper end
	queue := []way{{at.Edge, at.Offset, tollOf(share)}}
	var out []flow.Piece
	for len(queue) > 0 {
		w := queue[0]
		queue = queue[1:]
		rate := s.rate(net.Order[w.edge])
		from := max(0, w.lower-geo.Meters(float64(w.left)/float64(rate)))
		if i, again := met[w.edge]; again {
			out[i].From = min(out[i].From, from)
		} else {
			met[w.edge] = len(out)
			out = append(out, flow.Piece{Edge: w.edge, From: from, To: w.lower})
		}
		left := w.left - rate.toll(w.lower)
		if left <= best[w.edge] {
			continue // nothing is left, or no more than by another way
		}
		best[w.edge] = left
		for _, e := range net.Net.In(net.Net.Edges[w.edge].From) {
			queue = append(queue, way{e, net.Net.Edges[e].Length, left})
		}
	}
	return out
}

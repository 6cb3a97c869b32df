package drift

import (
	"math"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// times is how long what floats takes over every edge, in hours.
type times struct {
	mean, fast []float64
	rung       []Rung
}

// travel gives every edge its times from the best rung of the ladder.
func travel(net *stream.Network, s Settings) times {
	t := times{
		mean: make([]float64, len(net.Paths)), fast: make([]float64, len(net.Paths)),
		rung: make([]Rung, len(net.Paths)),
	}
	for e := range net.Paths {
		edge := &net.Net.Edges[e]
		v := velocity(&net.Lines[edge.Line], s.VelocityByOrder, net.Order[e])
		t.mean[e], t.fast[e] = v.hours(float64(edge.Length))
		t.rung[e] = v.Rung
	}
	return t
}

// arrivals returns the hours after which the first fragment of any source
// comes to the upper end of each edge, +Inf where none does. One pass in flow
// order; sources are sorted by place.
func arrivals(net *flow.Network, hours []float64, sources []Source) []float64 {
	out := make([]float64, len(net.Edges))
	for e := range out {
		out[e] = math.Inf(1)
	}
	at := 0
	for e := range net.Edges {
		own := onEdge(sources[at:], int32(e))
		at += len(own)
		end := arrival(&net.Edges[e], out[e], hours[e], own, net.Edges[e].Length)
		for _, d := range net.Downstream(int32(e)) {
			out[d] = min(out[d], end)
		}
	}
	return out
}

// arrival returns the hours to a place on an edge: from the last source above
// it, which is nearest, else from the edge's upper end.
func arrival(edge *flow.Edge, start, hours float64, sources []Source, at geo.Meters) float64 {
	if edge.Length <= 0 {
		return start
	}
	perMeter := hours / float64(edge.Length)
	for i := len(sources) - 1; i >= 0; i-- {
		if sources[i].Place.Offset <= at {
			return perMeter * float64(at-sources[i].Place.Offset)
		}
	}
	return start + perMeter*float64(at)
}

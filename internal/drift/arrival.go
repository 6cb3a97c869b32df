package drift

import (
	"driftreach/geo"
	"driftreach/internal/stream"
)

// times is how long a floating fragment takes over every edge.
type times struct {
	mean, fast []geo.Hours
	rung       []Rung
}

// travel gives every edge its travel times, from the best velocity source available.
func travel(net *stream.Network, s Settings) times {
	t := times{
		mean: make([]geo.Hours, net.Paths.Len()), fast: make([]geo.Hours, net.Paths.Len()),
		rung: make([]Rung, net.Paths.Len()),
	}
	for e := range net.Paths.Len() {
		edge := &net.Net.Edges[e]
		line := net.Line(edge.Line)
		v := velocity(&line, s.VelocityByOrder, net.Order[e])
		v.Mean, v.Fast = v.Mean*geo.MetersPerSecond(s.VelocityFactor), v.Fast*geo.MetersPerSecond(s.VelocityFactor)
		t.mean[e], t.fast[e] = v.hours(edge.Length)
		t.rung[e] = v.Rung
	}
	return t
}

package drift

import "driftreach/internal/stream"

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
		v.Mean, v.Fast = v.Mean*s.VelocityFactor, v.Fast*s.VelocityFactor
		t.mean[e], t.fast[e] = v.hours(float64(edge.Length))
		t.rung[e] = v.Rung
	}
	return t
}

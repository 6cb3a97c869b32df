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
		v.Mean, v.Fast = v.Mean*MetersPerSecond(s.VelocityFactor), v.Fast*MetersPerSecond(s.VelocityFactor)
		mean, fast := v.hours(edge.Length)
		t.mean[e], t.fast[e] = float64(mean), float64(fast)
		t.rung[e] = v.Rung
	}
	return t
}

package drift

import (
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// dry says for every edge whether it has no water at this stage; nil where all have water.
func dry(net *stream.Network, s Settings) []bool {
	var out []bool
	for e := range net.Net.Edges {
		if !s.Dry[net.Line(net.Net.Edges[e].Line).Permanence] {
			continue
		}
		if out == nil {
			out = make([]bool, len(net.Net.Edges))
		}
		out[e] = true
	}
	return out
}

// wetShares returns the shares of the flow when some edges are dry. Dry edges take nothing; the
// flow is divided among the other edges in their usual proportions. Where all edges below a place
// are dry, nothing flows on.
func wetShares(net *flow.Network, dry []bool) []float64 {
	if dry == nil {
		return nil
	}
	shares := make([]float64, len(net.Edges))
	for v := range net.Nodes {
		wet := 0.0
		for _, e := range net.Out(int32(v)) {
			if !dry[e] {
				wet += net.Edges[e].Share
			}
		}
		for _, e := range net.Out(int32(v)) {
			if !dry[e] && wet > 0 {
				shares[e] = net.Edges[e].Share / wet
			}
		}
	}
	return shares
}

// onWater splits the sources into those on water and those on a dry bed, whose fragments stay
// where they fall.
func onWater(sources []Source, dry []bool) (wet, stranded []Source) {
	if dry == nil {
		return sources, nil
	}
	for _, s := range sources {
		if dry[s.Place.Edge] {
			stranded = append(stranded, s)
		} else {
			wet = append(wet, s)
		}
	}
	return wet, stranded
}

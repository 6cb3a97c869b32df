package drift

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/internal/stream"
)

// Weighted is a stretch of an edge with its own weight for what floats on it.
type Weighted struct {
	Edge     int32
	From, To geo.Meters
	Weight   float64
}

// Worth returns, by stand, the amount its own fragments have afloat, summed over every kilometre of
// stream times the weight of that kilometre. The weight is base, except on the given stretches;
// where these overlap the largest weight counts. With base 1 and no stretches it is the exposure
// without an age limit: fragments too old to root count here too. One pass upstream; linear in
// edges, sources and stretches, except for sorting them.
func Worth(net *stream.Network, s Settings, released Released, base float64, stretches []Weighted) []float64 {
	t, _ := transport(net, s)
	sources, _ := onWater(released.inFlowOrder(), dry(net, s))
	parts := partsOf(stretches)
	w := worth{rate: t.Rate, base: base, parts: make([][]Weighted, len(net.Net.Edges)), after: make([]float64, len(net.Net.Edges)), length: make([]float64, len(net.Net.Edges))}
	for len(parts) > 0 {
		n := 1
		for n < len(parts) && parts[n].Edge == parts[0].Edge {
			n++
		}
		w.parts[parts[0].Edge], parts = parts[:n], parts[n:]
	}
	onward := make([]float64, len(net.Net.Nodes)) // by node, for a unit that arrives
	for e := len(net.Net.Edges) - 1; e >= 0; e-- {
		edge := &net.Net.Edges[e]
		w.length[e] = float64(edge.Length)
		w.after[e] = t.Pass[e] * onward[edge.To]
		onward[edge.From] += t.ShareOf(net.Net, int32(e)) * t.EnterOf(int32(e)) * w.from(int32(e), 0)
	}
	out := make([]float64, released.Stands)
	for _, src := range sources {
		out[src.Stand] += src.Amount * w.from(src.Place.Edge, float64(src.Place.Offset))
	}
	return out
}

// worth is the weighted amount of a unit afloat, from any place downstream.
type worth struct {
	rate, after, length []float64 // by edge
	base                float64
	parts               [][]Weighted // by edge: stretches that do not overlap, downstream
}

// from is the worth of a unit afloat at an offset of an edge, summed part by part from the lower
// end.
func (w *worth) from(e int32, at float64) float64 {
	value, end := w.after[e], w.length[e]
	step := func(from float64, weight float64) {
		if from = max(from, at); from >= end {
			return
		}
		value = weight*exposureFrom(w.rate[e], end-from, 0) + math.Exp(-w.rate[e]*(end-from))*value
		end = from
	}
	for k := len(w.parts[e]) - 1; k >= 0 && end > at; k-- {
		p := &w.parts[e][k]
		step(float64(p.To), w.base)
		step(float64(p.From), p.Weight)
	}
	step(at, w.base)
	return value
}

// partsOf divides stretches into parts that do not overlap, each with the largest weight of the
// stretches there, sorted by edge and downstream.
func partsOf(stretches []Weighted) []Weighted {
	sorted := slices.Clone(stretches)
	slices.SortFunc(sorted, func(a, b Weighted) int {
		return cmp.Or(cmp.Compare(a.Edge, b.Edge), cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To), cmp.Compare(a.Weight, b.Weight))
	})
	var out []Weighted
	for len(sorted) > 0 {
		n := 1
		for n < len(sorted) && sorted[n].Edge == sorted[0].Edge {
			n++
		}
		own := sorted[:n]
		sorted = sorted[n:]
		var ends []geo.Meters
		for _, s := range own {
			ends = append(ends, s.From, s.To)
		}
		slices.Sort(ends)
		ends = slices.Compact(ends)
		var active []Weighted
		next := 0
		for k := 1; k < len(ends); k++ {
			from, to := ends[k-1], ends[k]
			active = slices.DeleteFunc(active, func(s Weighted) bool { return s.To <= from })
			for ; next < len(own) && own[next].From <= from; next++ {
				active = append(active, own[next])
			}
			if len(active) == 0 {
				continue
			}
			most := slices.MaxFunc(active, func(a, b Weighted) int { return cmp.Compare(a.Weight, b.Weight) }).Weight
			if m := len(out); m > 0 && out[m-1].Edge == own[0].Edge && out[m-1].To == from && out[m-1].Weight == most {
				out[m-1].To = to
				continue
			}
			out = append(out, Weighted{Edge: own[0].Edge, From: from, To: to, Weight: most})
		}
	}
	return out
}

package drift

import (
	"cmp"
	"slices"

	"driftreach/geo"
	"driftreach/internal/stream"
)

// Weighted is a stretch of an edge with its own weight for what floats on it.
type Weighted struct {
	Edge     int32
	From, To geo.Meters
	Weight   Factor
}

// Worth returns, by stand, the amount its own fragments have afloat, summed over every kilometre of
// stream times the weight of that kilometre. The weight is base, except on the given stretches;
// where these overlap the largest weight counts. With base 1 and no stretches it is the exposure
// without an age limit: fragments too old to root count here too. One pass upstream; linear in
// edges, sources and stretches, except for sorting them.
func Worth(net *stream.Network, s Settings, released Released, base Factor, stretches []Weighted) []AmountKm {
	t, _ := transport(net, s)
	sources, _ := onWater(released.inFlowOrder(), dry(net, s))
	parts := partsOf(stretches)
	w := worth{rate: losses(t.Rate), base: base, parts: make([][]Weighted, len(net.Net.Edges)), after: make([]geo.Kilometers, len(net.Net.Edges)), length: make([]geo.Meters, len(net.Net.Edges))}
	for len(parts) > 0 {
		n := 1
		for n < len(parts) && parts[n].Edge == parts[0].Edge {
			n++
		}
		w.parts[parts[0].Edge], parts = parts[:n], parts[n:]
	}
	onward := make([]geo.Kilometers, len(net.Net.Nodes)) // by node, for a unit that arrives
	for e := len(net.Net.Edges) - 1; e >= 0; e-- {
		edge := &net.Net.Edges[e]
		w.length[e] = edge.Length
		w.after[e] = geo.Kilometers(t.Pass[e]) * onward[edge.To]
		onward[edge.From] += geo.Kilometers(t.ShareOf(net.Net, int32(e))*t.EnterOf(int32(e))) * w.from(int32(e), 0)
	}
	out := make([]AmountKm, released.Stands)
	for _, src := range sources {
		out[src.Stand] += src.Amount.Over(w.from(src.Place.Edge, src.Place.Offset))
	}
	return out
}

// worth is what a unit afloat is worth from any place downstream: kilometres, each times its weight.
type worth struct {
	rate   losses
	after  []geo.Kilometers // by edge, for a unit at its lower end
	length []geo.Meters     // by edge
	base   Factor
	parts  [][]Weighted // by edge: stretches that do not overlap, downstream
}

// from is the worth of a unit afloat at an offset of an edge, summed part by part from the lower
// end.
func (w *worth) from(e int32, at geo.Meters) geo.Kilometers {
	value, end := w.after[e], w.length[e]
	step := func(from geo.Meters, weight Factor) {
		if from = max(from, at); from >= end {
			return
		}
		value = geo.Kilometers(weight)*exposureFrom(w.rate.on(e), end-from, 0) + geo.Kilometers(w.rate.on(e).left(end-from))*value
		end = from
	}
	for k := len(w.parts[e]) - 1; k >= 0 && end > at; k-- {
		p := &w.parts[e][k]
		step(p.To, w.base)
		step(p.From, p.Weight)
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

package drift

import (
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
)

// exposures returns, by stand, the exposure made by its own fragments. Exposure is linear, so this is also
// the exposure removed by treating the stand alone. The exposure of a unit at an edge's upper end
// follows from that of a unit at the node below the edge. So one pass upstream serves every stand;
// it stays linear even where thousands of edges meet.
func exposures(net *flow.Network, t flow.Transport, stands int, sources []Source) []AmountKm {
	after := make([]geo.Kilometers, len(net.Edges))  // by edge, for a unit at its lower end
	onward := make([]geo.Kilometers, len(net.Nodes)) // by node, for a unit that arrives
	for e := len(net.Edges) - 1; e >= 0; e-- {
		edge := &net.Edges[e]
		after[e] = geo.Kilometers(t.Pass[e]) * onward[edge.To]
		below := exposureFrom(losses(t.Rate).on(int32(e)), edge.Length, after[e])
		onward[edge.From] += geo.Kilometers(t.ShareOf(net, int32(e))*t.EnterOf(int32(e))) * below
	}
	out := make([]AmountKm, stands)
	for len(sources) > 0 {
		e := sources[0].Place.Edge
		own := onEdge(sources, e)
		rate, length, after := losses(t.Rate).on(e), net.Edges[e].Length, after[e]
		for _, s := range own {
			out[s.Stand] += s.Amount.Over(exposureFrom(rate, length-s.Place.Offset, after))
		}
		sources = sources[len(own):]
	}
	return out
}

// shortWay is the x below which 1 - exp(-x) would lose digits that math.Expm1 keeps. Our choice:
// above it 12 digits are left, in a third of the time.
const shortWay = 1e-4

// exposureFrom is the exposure of a unit released rest metres above an edge's lower end: the
// integral of exp(-k x) down to that end, plus the share left there times the exposure of a unit at
// the lower end.
func exposureFrom(rate PerMeter, rest geo.Meters, after geo.Kilometers) geo.Kilometers {
	x := float64(rate) * float64(rest)
	var settled float64
	if x > shortWay {
		settled = 1 - math.Exp(-x)
	} else {
		settled = -math.Expm1(-x)
	}
	return geo.Kilometers(settled/float64(rate)/1000) + geo.Kilometers(1-settled)*after
}

// stretched is a part of an edge that is covered by the same stands throughout.
type stretched struct {
	length geo.Meters
	stands []int32 // the stands, in no order; valid until the next call
}

// eachStretch calls do for every part of the covered edges on which the set of stands does not
// change. Covers must be sorted by edge.
func eachStretch(covers []cover, do func(stretched)) {
	var active []cover
	var ends []geo.Meters
	for first := 0; first < len(covers); {
		last := first
		ends = ends[:0]
		for ; last < len(covers) && covers[last].edge == covers[first].edge; last++ {
			ends = append(ends, covers[last].from, covers[last].to)
		}
		slices.Sort(ends)
		ends = slices.Compact(ends)
		active = active[:0]
		next := first
		for i := 1; i < len(ends); i++ {
			from, to := ends[i-1], ends[i]
			active = slices.DeleteFunc(active, func(c cover) bool { return c.to <= from })
			for ; next < last && covers[next].from <= from; next++ {
				active = append(active, covers[next])
			}
			if len(active) > 0 {
				do(stretched{length: to - from, stands: standsOf(active)})
			}
		}
		first = last
	}
}

func standsOf(active []cover) []int32 {
	stands := make([]int32, len(active))
	for i, c := range active {
		stands[i] = c.stand
	}
	return stands
}

// alone returns, by stand, the length of its reach that no other stand reaches.
func alone(covers []cover, stands int) []geo.Kilometers {
	out := make([]geo.Kilometers, stands)
	eachStretch(covers, func(s stretched) {
		if len(s.stands) == 1 {
			out[s.stands[0]] += s.length.Kilometers()
		}
	})
	return out
}

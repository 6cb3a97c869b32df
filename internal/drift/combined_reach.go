package drift

import (
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/stream"
)

// unite sets the reaches edge by edge: the stream at risk from single stands or from all of
// them together, and the stream that is possible beyond it. Reaches are cut where the exposure
// class changes.
func (d *Drift) unite(net *stream.Network, s Settings, x afloat, risk, possible []timedCover) {
	own, drops := x.entered, x.drops
	crowded := x.lakes.crowded(net.Net, x.rate, x.load, x.entered, s.ExposureBreaks[0])
	for e := range net.Net.Edges {
		edge := &net.Net.Edges[e]
		here := takeEdge(&risk, int32(e), func(c *timedCover) int32 { return c.edge })
		could := takeEdge(&possible, int32(e), func(c *timedCover) int32 { return c.edge })
		entered := takeEdge(&own, int32(e), func(d *drop) int32 { return d.at.Edge })
		dropped := takeEdge(&drops, int32(e), func(d *drop) int32 { return d.at.Edge })
		if len(here) == 0 && len(could) == 0 && x.inflow[e] <= s.ExposureBreaks[0] && !x.lakes.among(crowded, int32(e)) {
			continue
		}
		rate := x.rate.on(int32(e))
		levels := levels(nil, edge, rate, x.inflow[e], entered, dropped)
		atRisk := summed(union(here), levels, rate, s.ExposureBreaks[0])
		if x.lakes.among(crowded, int32(e)) {
			atRisk = []stretch{{from: 0, to: edge.Length}}
		}
		for _, r := range atRisk {
			d.risk = append(d.risk, riskOn{int32(e), r.from, r.to})
			d.AtRiskKm += (r.to - r.from).Kilometers()
		}
		pieces := s.stretches(levels, rate, atRisk)
		for _, b := range s.stretches(levels, rate, beyond(union(could), atRisk)) {
			b.class = Possible
			pieces = append(pieces, b)
		}
		for _, st := range sorted(pieces) {
			r := describe(net, int32(e), st)
			covers := here
			if !st.class.AtRisk() {
				covers = could
			}
			r.whose(covers, st, x.times, edge)
			r.Velocity = x.times.rung[e]
			d.Reaches = append(d.Reaches, r)
		}
	}
}

// whose sets the number of stands whose reach covers part of a stretch. Of the stands that cover
// its lower end it sets the one whose fragments arrive there first (a tie goes to the first), with
// its hours. A stand whose source is at the lower end itself does not count.
func (r *Reach) whose(covers []timedCover, st stretch, times times, edge *flow.Edge) {
	var seen []int32
	none := geo.Hours(math.NaN())
	r.NearestStand, r.HoursFast, r.HoursMean = -1, none, none
	for _, c := range covers {
		if c.from >= st.to {
			break
		}
		if c.to <= st.from {
			continue
		}
		seen = append(seen, c.stand)
		if c.to < st.to {
			continue
		}
		fast, mean := c.fast, c.mean
		if edge.Length > 0 {
			part := geo.Hours((st.to - c.from) / edge.Length)
			fast, mean = fast+times.fast[c.edge]*part, mean+times.mean[c.edge]*part
		}
		if r.NearestStand < 0 || fast < r.HoursFast || fast == r.HoursFast && c.stand < r.NearestStand {
			r.NearestStand, r.HoursFast, r.HoursMean = c.stand, fast, mean
		}
	}
	slices.Sort(seen)
	r.Stands = len(slices.Compact(seen))
}

// describe gives a stretch its river km and its line on the map.
func describe(net *stream.Network, e int32, st stretch) Reach {
	edge := &net.Net.Edges[e]
	r := Reach{
		Line: edge.Line, FromKm: edge.RiverKm(st.from), ToKm: edge.RiverKm(st.to),
		LengthKm: (st.to - st.from).Kilometers(), Exposure: st.amount, Class: st.class,
	}
	if kind, _ := net.BarrierAt(e); st.to == edge.Length {
		r.Barrier = string(kind)
	}
	path, measures := net.Paths.Measured(int(e))
	scale := geo.Meters(1)
	if edge.Length > 0 {
		scale = measures[len(measures)-1] / edge.Length
	}
	r.Path = linear.Cut(path, measures, st.from*scale, st.to*scale)
	return r
}

// union merges covers sorted by start into stretches without overlap.
func union(covers []timedCover) []stretch {
	var out []stretch
	for _, c := range covers {
		out = extend(out, c.from, c.to)
	}
	return out
}

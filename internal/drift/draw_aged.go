package drift

import (
	"driftreach/geo"
	"driftreach/geo/flow"
)

// age computes a sample in which fragments may become too old. It returns the length of stream at
// risk and, by stand, the exposure for a release factor of 1. The sample's transport must be set.
func (d *drawer) age(s sample) (atRisk geo.Kilometers, exposure []AmountKm) {
	d.kept = d.kept[:0]
	for i := range d.sources {
		if src := &d.sources[i]; d.counts(src, s) {
			d.kept = append(d.kept, *src)
		}
	}
	a := newAgeing(d.net, d.transport, d.mean, d.base.Limit)
	a.follow(d.u.Released.Stands, d.kept)
	exposure = make([]AmountKm, len(a.balance))
	for i := range a.balance {
		exposure[i] = a.balance[i].Exposure
	}
	return d.atRisk(a.load(), s), exposure
}

// atRisk is the length of stream at risk from single sources and from all of them together;
// the sample's release multiplies the amounts of the latter.
func (d *drawer) atRisk(x load, s sample) geo.Kilometers {
	d.places = d.places[:0]
	for i := range d.kept {
		d.places = append(d.places, d.kept[i].Place)
	}
	pieces := d.reachOfPlaces()
	d.entered = appendEntering(d.entered[:0], d.kept)
	own, drops, floor := d.entered, x.drops, d.moderate/Amount(s.release)
	rate := losses(d.transport.Rate)
	crowded := d.lakes.crowded(d.net, rate, x, d.entered, floor)
	var meters geo.Meters
	for e := range d.net.Edges {
		here := takeEdge(&pieces, int32(e), func(p *flow.Piece) int32 { return p.Edge })
		entered := takeEdge(&own, int32(e), func(d *drop) int32 { return d.at.Edge })
		dropped := takeEdge(&drops, int32(e), func(d *drop) int32 { return d.at.Edge })
		if d.lakes.among(crowded, int32(e)) {
			meters += d.net.Edges[e].Length
			continue
		}
		var reached []stretch
		for _, p := range here {
			reached = extend(reached, p.From, p.To)
		}
		d.levels = levels(d.levels[:0], &d.net.Edges[e], rate.on(int32(e)), x.inflow[e], entered, dropped)
		for _, r := range summed(reached, d.levels, rate.on(int32(e)), floor) {
			meters += r.to - r.from
		}
	}
	return meters.Kilometers()
}

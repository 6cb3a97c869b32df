package batch

import (
	"math"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/stand"
)

// benefit is what treating each stand is worth to a plan in a quarter: by the places that
// the programme holds dear, where any were given; else, in a chain, the exposure that its
// fragments make on stream that is clean or cleared; else their exposure.
type benefit struct {
	c     *computation
	worth []float64 // by stand; nil for the exposure
	told  []check.Finding
}

// weigh follows the fragments of what waits over stream that counts differently.
func (b *benefit) weigh() error {
	c := b.c
	var stretches []drift.Weighted
	base := 1.0
	switch {
	case len(c.in.Valued) > 0:
		base, stretches = 0, b.valued()
	case c.in.Previous != nil:
		stretches = b.infested()
	default:
		return nil
	}
	released := drift.Released{Stands: len(c.divided.Outcomes), Sources: c.inTwo(c.rules.Drift, c.rules.Beyond)}
	b.worth = drift.Worth(c.net, c.rules.Drift, released, base, stretches)
	return c.ctx.Err()
}

// of returns the benefit of what waits of a stand, or grows again on it.
func (b *benefit) of(i int32) float64 {
	job := b.c.toTreat(i)
	switch {
	case b.worth == nil:
		return job.Exposure
	case !b.c.asked(i):
		return 0
	}
	return b.c.done[i].Waits() * b.worth[i]
}

// besides is how far up and down the stream from a place looked at its weight holds: half
// the step between them.
const besides geo.Meters = 10

// valued are the stretches of stream at places that count, with their weights.
func (b *benefit) valued() []drift.Weighted {
	var out []drift.Weighted
	for i := range b.c.in.Valued {
		v := &b.c.in.Valued[i]
		places := b.c.water.Touching(v.Paths(), v.Areas)
		if len(places) == 0 {
			b.told = append(b.told, v.Away())
		}
		for _, at := range places {
			out = append(out, b.about(at.Edge, at.Offset, besides, v.Weight))
		}
	}
	return out
}

// infested are the stretches of stream beside live patches, which count nothing: there
// the plant stands already.
func (b *benefit) infested() []drift.Weighted {
	var out []drift.Weighted
	for i, touches := range b.c.touches {
		if !b.c.asked(int32(i)) {
			continue
		}
		for _, t := range touches {
			area := float64(stand.PatchOf(b.c.in.Records[t.Record], b.c.rules.Stands).Area)
			out = append(out, b.about(t.Place.Edge, t.Place.Offset, geo.Meters(math.Sqrt(area/math.Pi)), 0))
		}
	}
	return out
}

// about is the stretch of an edge so far up and down from a place.
func (b *benefit) about(edge int32, at, far geo.Meters, weight float64) drift.Weighted {
	return drift.Weighted{Edge: edge, From: max(0, at-far), To: min(b.c.net.Net.Edges[edge].Length, at+far), Weight: weight}
}

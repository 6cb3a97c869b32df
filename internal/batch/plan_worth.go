package batch

import (
	"math"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/drift"
	"driftreach/internal/stand"
)

// benefit is what treating each stand is worth in a plan. If valued places are given, it is the
// exposure of those places. Otherwise, in a chain, it is the exposure of stream that is not infested
// now. In a first batch it is the exposure of all stream.
type benefit struct {
	c     *computation
	worth []drift.AmountKm // by stand; nil to use the exposure
	told  []check.Finding
}

// weigh follows the fragments of the stands to treat, with the weight of each stretch of stream.
func (b *benefit) weigh() error {
	c := b.c
	var stretches []drift.Weighted
	base := drift.Factor(1)
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

// of returns the benefit of the part of a stand that is to be treated, or that grows again.
func (b *benefit) of(i int32) drift.AmountKm {
	job := b.c.toTreat(i)
	switch {
	case b.worth == nil:
		return job.Exposure
	case !b.c.asked(i):
		return 0
	}
	return drift.AmountKm(b.c.done[i].Waits()) * b.worth[i]
}

// besides is how far a weight extends along the stream, up and down from a place: half the sampling
// step.
const besides geo.Meters = 10

// valued returns the stretches of stream at valued places, with their weights.
func (b *benefit) valued() []drift.Weighted {
	var out []drift.Weighted
	for i := range b.c.in.Valued {
		v := &b.c.in.Valued[i]
		places := b.c.water.Touching(v.Paths(), v.Areas)
		if len(places) == 0 {
			b.told = append(b.told, v.Away())
		}
		for _, at := range places {
			out = append(out, b.about(at.Edge, at.Offset, besides, drift.Factor(v.Weight)))
		}
	}
	return out
}

// infested returns the stretches of stream beside live patches, with weight 0: the plant is already
// there.
func (b *benefit) infested() []drift.Weighted {
	var out []drift.Weighted
	for i, touches := range b.c.touches {
		if !b.c.asked(int32(i)) {
			continue
		}
		for _, t := range touches {
			area := float64(stand.PatchOf(*b.c.in.Records.At(int(t.Record)), b.c.rules.Stands).Area)
			out = append(out, b.about(t.Place.Edge, t.Place.Offset, geo.Meters(math.Sqrt(area/math.Pi)), 0))
		}
	}
	return out
}

// about returns the stretch of an edge from far upstream to far downstream of a place.
func (b *benefit) about(edge int32, at, far geo.Meters, weight drift.Factor) drift.Weighted {
	return drift.Weighted{Edge: edge, From: max(0, at-far), To: min(b.c.net.Net.Edges[edge].Length, at+far), Weight: weight}
}

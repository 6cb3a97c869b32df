package learn

import (
	"context"
	"math"

	"driftreach/geo"
	"driftreach/geo/parallel"
	"driftreach/internal/drift"
	"driftreach/internal/estimate"
)

// Verdict is an answer in plain words.
type Verdict uint8

// The verdicts.
const (
	TooLittle Verdict = iota
	NotSupported
	Supported
)

// String returns the verdict in words.
func (v Verdict) String() string {
	return [...]string{"too little data", "not supported", "supported"}[v]
}

// Distance is how far fragments float, estimated from new stands.
type Distance struct {
	Verdict Verdict
	Scale   estimate.Scale // factor on all half-distances
	Scales  []float64
	Assumed []geo.Kilometers // half-distances by stream order
	Counted int              // number of new stands that count here
	Needed  float64          // number of new stands needed if all arrived afloat with the assumed half-distance; infinite if no number is enough
}

// sureOf is the p below which there is a verdict. Our choice: one in a hundred, because new stands
// come in groups, which raises a nominal one in twenty.
const sureOf = 0.01

// steps are the factors tried on the half-distances: from an eighth to eight times, four steps for
// each doubling. Our choice: the published half-distances span less.
func steps() []float64 {
	var out []float64
	for k := -12; k <= 12; k++ {
		out = append(out, math.Exp2(float64(k)/4))
	}
	return out
}

// distance estimates how far fragments float, from where new stands were found. Release, stage and
// half-distance cannot be separated, so the result is one number: a factor on the half-distances in
// the settings.
func (c *Chain) distance(ctx context.Context, looks []look, arrivals []Arrival, s drift.Settings, o Options, workers int) (Distance, error) {
	d := Distance{Scales: steps(), Needed: math.Inf(1)}
	d.Assumed = append(d.Assumed, s.HalfDistanceByOrder...)
	looks, found := c.apart(looks, arrivals)
	spread := estimate.Spreading{Counts: make([]float64, len(looks)), Ground: make([]float64, len(looks)), Scales: d.Scales, Draws: o.Draws, Seed: o.Seed}
	for _, look := range found {
		spread.Counts[look]++
		d.Counted++
	}
	if d.Counted == 0 || len(looks) == 0 {
		return d, nil
	}
	for i := range looks {
		spread.Ground[i] = float64(c.km(&looks[i])) * c.quarters(&looks[i])
	}
	spread.Down, spread.Up = make([][]float64, len(d.Scales)), make([][]float64, len(d.Scales))
	pieces := c.Grid.Pieces()
	err := parallel.Each(ctx, len(d.Scales), workers, func(k int) {
		down, up := make([][]drift.AmountKm, len(c.Batches)), make([][]drift.AmountKm, len(c.Batches))
		for b := range c.Batches[:len(c.Batches)-1] {
			one := &c.Batches[b]
			scaled := one.Rules.Drift.Scaled(drift.Factor(d.Scales[k]))
			afloat := drift.Afloat(c.Net, one.released, scaled)
			down[b] = afloat.ExposureOn(c.Net, pieces)
			up[b] = drift.Against(c.Net, one.released, scaled, pieces)
		}
		spread.Down[k], spread.Up[k] = c.summed(looks, down), c.summed(looks, up)
	})
	if err != nil {
		return d, err
	}
	d.judge(&spread)
	return d, nil
}

// summed sums the exposure of each look over the quarters since the look before.
func (c *Chain) summed(looks []look, exposure [][]drift.AmountKm) []float64 {
	out := make([]float64, len(looks))
	for i := range looks {
		for q := looks[i].since; q < looks[i].now; q++ {
			out[i] += float64(exposure[q][looks[i].cell]) * float64(c.between(q)) * looks[i].banks
		}
	}
	return out
}

// judge fits the half-distance and says whether the data support it. They support it when two
// things are true: a gain in likelihood as large as that from flow in one direction is rare in
// simulated chains without a direction, and the interval is bounded on both sides.
func (d *Distance) judge(s *estimate.Spreading) {
	d.Scale, d.Needed = s.Estimate(), s.Needed(s.Nearest(1))
	switch {
	case d.Scale.P <= sureOf && d.Counted >= leastArrivals && d.Scale.Scale.Finite():
		d.Verdict = Supported
	case float64(d.Counted) >= max(leastArrivals, d.Needed):
		d.Verdict = NotSupported
	}
}

// HalfDistances returns the half-distances by stream order, multiplied by a factor.
func (d *Distance) HalfDistances(factor float64) []geo.Kilometers {
	out := make([]geo.Kilometers, len(d.Assumed))
	for i, km := range d.Assumed {
		out[i] = km * geo.Kilometers(factor)
	}
	return out
}

package learn

import (
	"context"
	"math"

	"driftreach/geo/parallel"
	"driftreach/internal/drift"
	"driftreach/internal/estimate"
)

// Verdict is a plain answer.
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

// Distance is how far fragments float, as the new stands have it.
type Distance struct {
	Verdict Verdict
	Scale   estimate.Scale // factor on every half-distance
	Scales  []float64
	Assumed []float64 // half-distances by stream order, km
	Counted int
	Needed  float64 // new stands that tell, where all came afloat by the assumed half-distance; infinite where none do
}

// sureOf is how seldom as much must come of no drift at all for a verdict. Our choice: one
// in a hundred, so that new stands that come in groups do not make it one in twenty.
const sureOf = 0.01

// steps are the factors that are tried on the half-distances: from an eighth to eight
// times, four to each doubling. Our choice: the published half-distances span less.
func steps() []float64 {
	var out []float64
	for k := -12; k <= 12; k++ {
		out = append(out, math.Exp2(float64(k)/4))
	}
	return out
}

// distance fits how far fragments float to where new stands were found. What cannot be
// told apart, release, stage and half-distance, is one number: the factor on the
// half-distances of the settings.
func (c *Chain) distance(ctx context.Context, looks []look, arrivals []Arrival, s drift.Settings, o Options, workers int) (Distance, error) {
	d := Distance{Scales: steps(), Needed: math.Inf(1)}
	for _, km := range s.HalfDistanceByOrder {
		d.Assumed = append(d.Assumed, float64(km))
	}
	spread := estimate.Spreading{Counts: make([]float64, len(looks)), Ground: make([]float64, len(looks)), Scales: d.Scales, Draws: o.Draws, Seed: o.Seed}
	for i := range arrivals {
		if arrivals[i].Kind.Counts() {
			spread.Counts[arrivals[i].Look]++
			d.Counted++
		}
	}
	if d.Counted == 0 || len(looks) == 0 {
		return d, nil
	}
	for i := range looks {
		spread.Ground[i] = c.km(&looks[i]) * c.quarters(&looks[i])
	}
	spread.Down, spread.Up = make([][]float64, len(d.Scales)), make([][]float64, len(d.Scales))
	pieces := c.Grid.Pieces()
	err := parallel.Each(ctx, len(d.Scales), workers, func(k int) {
		down, up := make([][]float64, len(c.Batches)), make([][]float64, len(c.Batches))
		for b := range c.Batches[:len(c.Batches)-1] {
			one := &c.Batches[b]
			scaled := one.Rules.Drift.Scaled(d.Scales[k])
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

// summed sums what came to each look over the quarters between.
func (c *Chain) summed(looks []look, exposure [][]float64) []float64 {
	out := make([]float64, len(looks))
	for i := range looks {
		for q := looks[i].since; q < looks[i].now; q++ {
			out[i] += exposure[q][looks[i].cell] * float64(c.between(q)) * looks[i].banks
		}
	}
	return out
}

// judge fits the half-distance and says whether the data support it. A half-distance is supported
// where the likelihood gains from water that flows one way as seldom gains of chains in which it
// does not, and where the data bound it on both sides.
func (d *Distance) judge(s *estimate.Spreading) {
	d.Scale, d.Needed = s.Estimate(), s.Needed(s.Nearest(1))
	switch {
	case d.Scale.P <= sureOf && d.Counted >= leastArrivals && d.Scale.Scale.Finite():
		d.Verdict = Supported
	case float64(d.Counted) >= max(leastArrivals, d.Needed):
		d.Verdict = NotSupported
	}
}

// HalfDistances returns the half-distances by stream order at a factor, km.
func (d *Distance) HalfDistances(factor float64) []float64 {
	out := make([]float64, len(d.Assumed))
	for i, km := range d.Assumed {
		out[i] = km * factor
	}
	return out
}

package drift

import (
	"fmt"
	"math"
	"math/rand/v2"

	"driftreach/geo"
	"driftreach/geo/linear"
)

// Spread is the uncertainty of the assumed values.
type Spread struct {
	// Draws is how many samples are followed; 0 for none. Default 200, our choice:
	// scripts/converge shows that P10, P50 and P90 of the reach are then within 1 % on average
	// of those of 3200 draws, and of the exposure within 7 %.
	Draws int
	// Seed determines the samples: the same seed gives the same numbers. Default 1.
	Seed uint64
	// HalfDistanceGSD is the geometric standard deviation of a lognormal factor on every
	// half-distance. Default 1.6, assumed: two standard deviations span the published values for
	// stems and for rhizome fragments.
	HalfDistanceGSD Factor
	// PassSpread is the largest relative error of a pass share in either direction. Default 0.5,
	// assumed.
	PassSpread geo.Share
	// ReleaseGSD is the geometric standard deviation of a lognormal factor on the amount
	// released. Default 2, assumed.
	ReleaseGSD Factor
	// Setback is the largest error of the setback in either direction, in metres. Default 10,
	// assumed.
	Setback geo.Meters
}

// DefaultSpread returns the defaults named on each field.
func DefaultSpread() Spread {
	return Spread{Draws: 200, Seed: 1, HalfDistanceGSD: 1.6, PassSpread: 0.5, ReleaseGSD: 2, Setback: 10}
}

// maxDraws limits the table of draws by stands. Our choice: the P10 and P90 of ten thousand draws
// are good to a fiftieth of a standard deviation.
const maxDraws = 10_000

// Validate returns an error naming the first value out of range.
func (s Spread) Validate() error {
	switch {
	case s.Draws < 0 || s.Draws > maxDraws:
		return fmt.Errorf("draws must be 0 to %d, got %d", maxDraws, s.Draws)
	case !(s.HalfDistanceGSD >= 1):
		return fmt.Errorf("half distance gsd must be at least 1, got %g", s.HalfDistanceGSD)
	case !(s.PassSpread >= 0 && s.PassSpread <= 1):
		return fmt.Errorf("pass spread must be 0 to 1, got %g", float64(s.PassSpread))
	case !(s.ReleaseGSD >= 1):
		return fmt.Errorf("release gsd must be at least 1, got %g", s.ReleaseGSD)
	case !(s.Setback >= 0):
		return fmt.Errorf("setback spread must be 0 m or more, got %g", float64(s.Setback))
	}
	return nil
}

// sample is one draw: factors on half-distances, pass shares and release, and metres added to the
// setback.
type sample struct {
	half, pass, release Factor
	setback             geo.Meters
}

// samples draws a Latin hypercube (McKay, Beckman & Conover 1979): the range of each of the four
// quantities is divided into as many slices of equal probability as there are draws, and each slice
// is drawn once.
func (s Spread) samples() []sample {
	random := rand.New(rand.NewPCG(s.Seed, 0x6472696674))
	half, pass := latin(random, s.Draws), latin(random, s.Draws)
	release, setback := latin(random, s.Draws), latin(random, s.Draws)
	out := make([]sample, s.Draws)
	for i := range out {
		out[i] = sample{
			half:    lognormal(half[i], s.HalfDistanceGSD),
			pass:    1 + Factor(s.PassSpread)*Factor(2*pass[i]-1),
			release: lognormal(release[i], s.ReleaseGSD),
			setback: s.Setback * geo.Meters(2*setback[i]-1),
		}
	}
	return out
}

// latin returns n probabilities, one from each of n equal slices, shuffled.
func latin(random *rand.Rand, n int) []float64 {
	out := make([]float64, n)
	for i, slice := range random.Perm(n) {
		out[i] = (float64(slice) + random.Float64()) / float64(n)
	}
	return out
}

// lognormal returns the quantile of a lognormal of median 1.
func lognormal(probability float64, gsd Factor) Factor {
	normal := math.Sqrt2 * math.Erfinv(2*probability-1)
	return Factor(math.Exp(normal * math.Log(float64(gsd))))
}

// quantile returns the quantile of sorted values by linear interpolation
// (definition 7 of Hyndman & Fan 1996).
func quantile(sorted []float64, probability float64) float64 {
	at := probability * float64(len(sorted)-1)
	low := int(at)
	if low+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[low] + (at-float64(low))*(sorted[low+1]-sorted[low])
}

// Uncertain is the input of a batch's percentiles.
type Uncertain struct {
	Released Released   // sources with their distance to the bank, including those near the zone
	Setback  geo.Meters // setback as set
	Spread   Spread
	Workers  int

	KeepDraws bool                         // keep the exposures of each draw
	Put       func(text []byte) linear.Far // takes the figures of a draw and says where they are; nil to have them in memory
}

// passes returns the pass share in a sample, given the set one; a share of 1 stays 1.
func (s sample) passes(share geo.Share) geo.Share {
	if share < 1 {
		return min(1, share*geo.Share(s.pass))
	}
	return share
}

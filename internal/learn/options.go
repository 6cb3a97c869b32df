package learn

import (
	"fmt"

	"driftreach/geo"
)

// Options are the assumptions made in asking a chain. They cannot be estimated from the chain, and
// the page says so.
type Options struct {
	// Clonal is the distance from a known stand within which a new stand counts as its
	// growth and not as an arrival. Default 10: rhizomes spread by less than a metre a year, and
	// both positions are off by some metres.
	Clonal geo.Meters
	// Tall is the height above which a plant cannot be new: it was missed before.
	// Default 4.
	Tall geo.Meters
	// Later is the number of days after treatment from which a look shows whether it worked. Default
	// 30: before that nothing has died.
	Later int
	// Before is the probability that something is left of a treated stand before anybody looks.
	// Default 0.5: nothing is known.
	Before float64
	// Certainty is the required probability that nothing is left. Default 0.95.
	Certainty float64
	// Draws is the number of simulated chains without a direction with which the half-distance is
	// compared. Default 199.
	Draws int
	// Seed determines the draws. Default 1.
	Seed uint64
}

// DefaultOptions returns the defaults named on each field.
func DefaultOptions() Options {
	return Options{Clonal: 10, Tall: 4, Later: 30, Before: 0.5, Certainty: 0.95, Draws: 199, Seed: 1}
}

// Validate returns an error naming the first value out of range.
func (o Options) Validate() error {
	switch {
	case !(o.Clonal >= 0 && o.Clonal <= 1000):
		return fmt.Errorf("clonal distance must be 0 to 1000 m, got %g", float64(o.Clonal))
	case !(o.Tall > 0 && o.Tall <= 100):
		return fmt.Errorf("height of a new plant must be above 0 and at most 100 m, got %g", float64(o.Tall))
	case o.Later < 1 || o.Later > 365:
		return fmt.Errorf("days after treatment must be 1 to 365, got %d", o.Later)
	case !(o.Before > 0 && o.Before < 1):
		return fmt.Errorf("probability before must lie between 0 and 1, got %g", o.Before)
	case !(o.Certainty >= 0.5 && o.Certainty < 1):
		return fmt.Errorf("certainty must be 0.5 or more and below 1, got %g", o.Certainty)
	}
	return nil
}

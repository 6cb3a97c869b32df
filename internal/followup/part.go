package followup

import (
	"math"
	"time"

	"driftreach/internal/control"
)

// wholeShare is the share of a stand from which work on it counts as work on all of
// it. Our choice: acres of work and of a map differ by that much.
const wholeShare = 0.9

// done returns the share of a stand of so many infested acres that work on or after a
// day treated: 0 without such work, 1 where its acres are not told or come near the
// stand's.
func done(work []control.Action, day time.Time, acres float64) float64 {
	sum := 0.0
	for i := range work {
		a := &work[i]
		switch {
		case a.Date.Before(day):
		case a.TreatedAcres > 0:
			sum += a.TreatedAcres
		default: // NaN for not told
			return 1
		}
	}
	if sum > 0 && !(sum < wholeShare*acres) {
		return 1
	}
	return sum / max(acres, math.SmallestNonzeroFloat64)
}

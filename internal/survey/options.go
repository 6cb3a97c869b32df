package survey

import (
	"driftreach/geo"
)

// Options says how records are checked.
type Options struct {
	Quarter Quarter // records that begin after it are rejected; zero for no limit
	// First is the first day that counts: records that end before it are set aside; zero for no limit.
	First Day
	// LargestPatch is the largest plausible patch; 0 means no check.
	LargestPatch geo.SquareMeters
	// SmallestPatch is the smallest plausible patch; 0 means no check.
	SmallestPatch geo.SquareMeters
	// Uncertainty is assumed for positions whose uncertainty is not recorded.
	Uncertainty  geo.Meters
	JoinDistance geo.Meters // positions written with coarser steps get a warning; 0 means no check
	Setback      geo.Meters // a larger uncertainty gets a warning; 0 means no check
	FindingLimit int        // as check.Log.Limit
	Quiet        bool       // as check.Log.Quiet: what only finds something is left out
}

// DefaultOptions returns the options for a quarter.
func DefaultOptions(q Quarter) Options {
	return Options{
		Quarter: q, First: firstDay(q),
		// [A] one square kilometre: no single surveyed patch is that large, while values in square feet
		// or hectares read as square metres soon exceed it.
		LargestPatch: 1e6,
		// Our choice: a square centimetre, less than the cross-section of one stem.
		SmallestPatch: 1e-4,
		// [A] a hand-held receiver under trees
		Uncertainty: 5,
	}
}

// firstDay returns a quarter's first day; zero if q is zero.
func firstDay(q Quarter) Day {
	if q.IsZero() {
		return 0
	}
	return DayOf(q.Begin())
}

package survey

import (
	"driftreach/geo"
)

// Options says what Check holds records against.
type Options struct {
	Quarter Quarter // records that begin after its end are rejected; zero: no date is too late
	// First is the first day that counts: records that end before it are set aside;
	// zero: none is too early.
	First Day
	// LargestPatch is the largest patch that is believed; 0 means no check.
	LargestPatch geo.SquareMeters
	// SmallestPatch is the smallest patch that is believed; 0 means no check.
	SmallestPatch geo.SquareMeters
	// Uncertainty is by how much a position may be off that does not say so.
	Uncertainty  geo.Meters
	JoinDistance geo.Meters // positions with coarser digits draw a warning; 0 means no check
	Setback      geo.Meters // a larger uncertainty draws a warning; 0 means no check
	FindingLimit int        // as check.Log.Limit
}

// DefaultOptions returns the options for a quarter.
func DefaultOptions(q Quarter) Options {
	return Options{
		Quarter: q, First: firstDay(q),
		// [A] one square kilometre: no single surveyed patch is that large, while square
		// feet or hectares read as square metres soon are.
		LargestPatch: 1e6,
		// Our choice: a square centimetre, below the section of one stem.
		SmallestPatch: 1e-4,
		// [A] a hand-held receiver under trees
		Uncertainty: 5,
	}
}

// firstDay returns a quarter's first day, none of no quarter.
func firstDay(q Quarter) Day {
	if q.IsZero() {
		return 0
	}
	return DayOf(q.Begin())
}

package treatment

import (
	"fmt"

	"driftreach/geo"
)

// Settings are the rules of treatment and follow-up.
type Settings struct {
	// HandPull is the largest infested area that may be pulled by hand, in
	// square metres. Default 10, assumed.
	HandPull geo.SquareMeters
	// RevisitMonths is when a treated stand is looked at again. Default 12,
	// assumed.
	RevisitMonths int
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings { return Settings{HandPull: 10, RevisitMonths: 12} }

// Validate returns an error that names the first value out of range.
func (s Settings) Validate() error {
	switch {
	case !(s.HandPull >= 0):
		return fmt.Errorf("hand pull area must be 0 m2 or more, got %g", float64(s.HandPull))
	case s.RevisitMonths < 1:
		return fmt.Errorf("revisit months must be at least 1, got %d", s.RevisitMonths)
	}
	return nil
}

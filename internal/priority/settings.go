package priority

import (
	"fmt"

	"driftreach/geo"
)

// Settings are the rules of treatment.
type Settings struct {
	// HandPull is the largest infested area that may be pulled by hand, in
	// square metres. Default 10, assumed.
	HandPull geo.SquareMeters
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings { return Settings{HandPull: 10} }

// Validate returns an error that names the first value out of range.
func (s Settings) Validate() error {
	if !(s.HandPull >= 0) {
		return fmt.Errorf("hand pull area must be 0 m2 or more, got %g", float64(s.HandPull))
	}
	return nil
}

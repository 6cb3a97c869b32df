package notice

import (
	"fmt"

	"driftreach/geo"
)

// Settings are the rules for notices.
type Settings struct {
	// Distance is how near a work may come to a live stand without a notice, in metres from the
	// footprint. Default 100, assumed.
	Distance geo.Meters
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings { return Settings{Distance: 100} }

// Validate returns an error that names the first value out of range.
func (s Settings) Validate() error {
	if !(s.Distance >= 0) {
		return fmt.Errorf("notice distance must be 0 m or more, got %g", float64(s.Distance))
	}
	return nil
}

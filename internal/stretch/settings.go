package stretch

import (
	"fmt"

	"driftreach/geo"
)

// Settings are the rules for dividing streams into stretches and listing them.
type Settings struct {
	// Length is the longest stretch. Default 1, assumed.
	Length geo.Kilometers
	// ListShare is the share of all kilometres on the list. Default 0.1, assumed.
	ListShare geo.Share
	// PlacesShare is the share of the list, by kilometres, for stretches above the highest stand of
	// their tributary, and for those with a planned work below a live stand. Default 0.2, assumed.
	PlacesShare geo.Share
	// RandomShare is the share of the list that is a random sample of all stretches. Default 0.2,
	// assumed.
	RandomShare geo.Share
	// Seed determines the sample. Default 1.
	Seed uint64
	// Near is the largest distance of a stand that counts as near. Default 500, assumed.
	Near geo.Meters
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings {
	return Settings{Length: 1, ListShare: 0.1, PlacesShare: 0.2, RandomShare: 0.2, Seed: 1, Near: 500}
}

// Validate returns an error naming the first value out of range.
func (s Settings) Validate() error {
	switch {
	case !(s.Length > 0):
		return fmt.Errorf("length of a stretch must be above 0 km, got %g", float64(s.Length))
	case !(s.ListShare > 0 && s.ListShare <= 1):
		return fmt.Errorf("share of the list must be above 0 and at most 1, got %g", s.ListShare)
	case !(s.PlacesShare >= 0 && s.RandomShare >= 0 && s.PlacesShare+s.RandomShare <= 1):
		return fmt.Errorf("shares of places and of the random sample must be 0 or more and at most 1 together, got %g and %g", s.PlacesShare, s.RandomShare)
	case !(s.Near >= 0):
		return fmt.Errorf("how near a stand is must be 0 m or more, got %g", float64(s.Near))
	}
	return nil
}

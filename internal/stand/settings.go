package stand

import (
	"fmt"

	"driftreach/geo"
)

// Settings are the rules for grouping records into stands.
type Settings struct {
	// JoinDistance is the largest distance between neighbouring records of one stand, in metres.
	// Default 30: survey protocols ask for a point every 100 ft in dense growth (Midwest county
	// weed-survey protocol).
	JoinDistance geo.Meters
	// MinPoints is the number of records within JoinDistance, itself counted, that makes a core
	// point. Default 3, our choice: two finds may be chance, three are growth.
	MinPoints int
	// DefaultPatch is used for a record without a measured patch, in acres. Default 0.1, assumed:
	// the smallest unit of the federal mapping standard.
	DefaultPatch geo.Acres
	// DefaultCover is used for a record without canopy cover, in percent. Default 60, assumed.
	DefaultCover float64
	// Chord is how far the drawn outline may be off the true arcs, in metres. Default 0.1, our
	// choice: a fiftieth of the position error assumed for a find without a recorded one. Areas do
	// not depend on it.
	Chord geo.Meters
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings {
	return Settings{JoinDistance: 30, MinPoints: 3, DefaultPatch: 0.1, DefaultCover: 60, Chord: 0.1}
}

// Validate returns an error naming the first value out of range.
func (s Settings) Validate() error {
	switch {
	case !(s.JoinDistance > 0):
		return fmt.Errorf("join distance must be above 0 m, got %g", float64(s.JoinDistance))
	case s.MinPoints < 1:
		return fmt.Errorf("min points must be at least 1, got %d", s.MinPoints)
	case !(s.DefaultPatch > 0):
		return fmt.Errorf("default patch must be above 0 acres, got %g", float64(s.DefaultPatch))
	case !(s.DefaultCover >= 0 && s.DefaultCover <= 100):
		return fmt.Errorf("default cover must be 0 to 100 percent, got %g", s.DefaultCover)
	case !(s.Chord > 0):
		return fmt.Errorf("chord must be above 0 m, got %g", float64(s.Chord))
	}
	return nil
}

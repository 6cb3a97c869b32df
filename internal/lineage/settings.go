package lineage

import (
	"fmt"

	"driftreach/geo"
	"driftreach/internal/surveyed"
)

// Settings are the rules for following stands.
type Settings struct {
	// JoinDistance is the join distance of stands, in metres: a find covers its stand's general
	// perimeter within this distance.
	JoinDistance geo.Meters
	// DefaultPatch is the default patch of stands, in acres.
	DefaultPatch geo.Acres
	// OverlapShare is the smallest share of the smaller of two perimeters that both must cover to be
	// linked, above 0 and up to 1. Default 0.25, assumed: parts of one stand share far more,
	// neighbours that happen to touch share less.
	OverlapShare float64
	// Uncertainty is the position uncertainty of a record that does not give one, in metres: the
	// radius that contains 68 %. Default 5, assumed: a hand-held receiver under open canopy.
	Uncertainty geo.Meters
	// Sight is how far surveyed ground reaches, by method.
	Sight [surveyed.Methods]Sight
	// Barrier is the width of water across which a crew on foot does not look, in metres. Default
	// 10, assumed: the width that is not waded.
	Barrier geo.Meters
	// UnseenShare is the largest unseen share of a stand that still counts as fully surveyed, 0 to
	// below 1. Default 0.05, assumed.
	UnseenShare float64
	// KeptWithin is the largest change in infested area, as a share of the earlier area, of a stand
	// that counts as kept, 0 to 1. Default 0.1, assumed: about what position error alone does to a
	// small stand.
	KeptWithin float64
}

// Sight is how far from a surveyed line the ground was surveyed, in metres.
type Sight struct {
	Found  geo.Meters // tall cane is found within this distance
	Absent geo.Meters // finding nothing counts within this distance: regrowth is knee-high
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings {
	return Settings{
		JoinDistance: 30, DefaultPatch: 0.1, OverlapShare: 0.25, Uncertainty: 5, Barrier: 10, UnseenShare: 0.05, KeptWithin: 0.1,
		// Assumed: cane three metres tall is visible 50 m away along a bank; sprouts from a stump are
		// seen only beside one's path. With images or from the air the covered ground is drawn as an
		// area, and a line only shows the flight path.
		Sight: [surveyed.Methods]Sight{
			surveyed.Foot:  {Found: 50, Absent: 20},
			surveyed.Boat:  {Found: 50, Absent: 25},
			surveyed.Air:   {Found: 100, Absent: 50},
			surveyed.Image: {},
		},
	}
}

// Validate returns an error naming the first value out of range.
func (s Settings) Validate() error {
	switch {
	case !(s.JoinDistance > 0):
		return fmt.Errorf("join distance must be above 0 m, got %g", float64(s.JoinDistance))
	case !(s.DefaultPatch > 0):
		return fmt.Errorf("default patch must be above 0 acres, got %g", float64(s.DefaultPatch))
	case !(s.OverlapShare > 0 && s.OverlapShare <= 1):
		return fmt.Errorf("overlap share must be above 0 and up to 1, got %g", s.OverlapShare)
	case !(s.Uncertainty > 0):
		return fmt.Errorf("position uncertainty must be above 0 m, got %g", float64(s.Uncertainty))
	case !(s.Barrier >= 0):
		return fmt.Errorf("width of water that nobody looks across must be at least 0 m, got %g", float64(s.Barrier))
	case !(s.UnseenShare >= 0 && s.UnseenShare < 1):
		return fmt.Errorf("unseen share must be at least 0 and below 1, got %g", s.UnseenShare)
	case !(s.KeptWithin >= 0 && s.KeptWithin <= 1):
		return fmt.Errorf("kept within must be 0 to 1, got %g", s.KeptWithin)
	}
	for m, sight := range s.Sight {
		if !(sight.Absent >= 0 && sight.Found >= sight.Absent) {
			return fmt.Errorf("%s: what is found must be found at least as far as absence counts, got %g and %g m", surveyed.Method(m), float64(sight.Found), float64(sight.Absent))
		}
	}
	return nil
}

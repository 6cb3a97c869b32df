package margin

import (
	"fmt"

	"driftreach/geo"
)

// Settings are the errors of recorded and assumed values: standard deviations, except for the
// position radius.
type Settings struct {
	// Position is the radius that contains 68 % of the positions, for records that give none, in
	// metres. Default 5, assumed: a hand-held receiver under open canopy.
	Position geo.Meters
	// PatchOwn is the error of a measured patch that no other patch shares, as a share of its area.
	// Default 0.4, assumed: sides paced, or judged to a quarter.
	PatchOwn float64
	// PatchShared is the common error of all patches measured by one observer in a quarter, as a
	// share. Default 0.1, assumed: all sides judged a twentieth too long or too short.
	PatchShared float64
	// DefaultPatch is the error of the default patch, as a share of it: one error for all unmeasured
	// patches. Default 0.5, assumed.
	DefaultPatch float64
	// DefaultCover is the error of the default canopy cover, in percentage points: one error for all
	// patches without a recorded cover. Default 20, assumed.
	DefaultCover float64
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings {
	return Settings{Position: 5, PatchOwn: 0.4, PatchShared: 0.1, DefaultPatch: 0.5, DefaultCover: 20}
}

// Validate returns an error naming the first value out of range.
func (s Settings) Validate() error {
	if !(s.Position > 0) {
		return fmt.Errorf("position uncertainty must be above 0 m, got %g", float64(s.Position))
	}
	for _, share := range []struct {
		name  string
		value float64
	}{{"own patch error", s.PatchOwn}, {"shared patch error", s.PatchShared}, {"default patch error", s.DefaultPatch}} {
		if !(share.value >= 0 && share.value <= 1) {
			return fmt.Errorf("%s must be 0 to 1 times the patch, got %g", share.name, share.value)
		}
	}
	if !(s.DefaultCover >= 0 && s.DefaultCover <= 100) {
		return fmt.Errorf("default cover error must be 0 to 100 points, got %g", s.DefaultCover)
	}
	return nil
}

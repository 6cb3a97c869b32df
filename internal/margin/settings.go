package margin

import (
	"fmt"

	"driftreach/geo"
)

// Settings is how far off what was recorded may be, and what was assumed: standard
// deviations, but for a position's radius.
type Settings struct {
	// Position is the radius that holds 68 % of the positions that record none, in
	// metres. Default 5, assumed: a hand-held receiver under open canopy.
	Position geo.Meters
	// PatchOwn is by how much a measured patch is off that no other shares, as a share
	// of its area. Default 0.4, assumed: sides paced or judged to a quarter.
	PatchOwn float64
	// PatchShared is by how much all patches that one observer measured in a quarter
	// are off together, as a share. Default 0.1, assumed: sides all judged longer or
	// shorter by a twentieth.
	PatchShared float64
	// DefaultPatch is by how much the default patch may be off, as a share of it: one
	// error for all patches nobody measured. Default 0.5, assumed.
	DefaultPatch float64
	// DefaultCover is by how much the default canopy cover may be off, in points of a
	// percent: one error for all patches whose cover nobody estimated. Default 20,
	// assumed.
	DefaultCover float64
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings {
	return Settings{Position: 5, PatchOwn: 0.4, PatchShared: 0.1, DefaultPatch: 0.5, DefaultCover: 20}
}

// Validate returns an error that names the first value out of range.
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

package lineage

import (
	"fmt"

	"driftreach/geo"
)

// Settings are the rules by which stands are followed.
type Settings struct {
	// JoinDistance is that of the stands, in metres: as near as this two
	// footprints may be of one stand.
	JoinDistance geo.Meters
	// OverlapShare is the least share of the smaller of two footprints that both
	// must cover to be linked, above 0 and up to 1. Default 0.25, assumed: parts of one stand share
	// far more, neighbours that happen to touch share less.
	OverlapShare float64
	// SeenDistance is how far from a surveyed line, or from a record, ground
	// counts as looked at, in metres. Default 50, assumed: tall canes are seen
	// from that far along a bank.
	SeenDistance geo.Meters
	// SurveyedShare is the least share of a footprint that must have been looked
	// at for the stand to count as visited, above 0 and up to 1. Default 0.5, assumed.
	SurveyedShare float64
	// KeptWithin is by how much of the earlier infested area a stand may differ
	// and count as kept, 0 to 1. Default 0.1, assumed: about what position
	// error alone makes of a small stand.
	KeptWithin float64
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings {
	return Settings{JoinDistance: 30, OverlapShare: 0.25, SeenDistance: 50, SurveyedShare: 0.5, KeptWithin: 0.1}
}

// Validate returns an error that names the first value out of range.
func (s Settings) Validate() error {
	switch {
	case !(s.JoinDistance > 0):
		return fmt.Errorf("join distance must be above 0 m, got %g", float64(s.JoinDistance))
	case !(s.OverlapShare > 0 && s.OverlapShare <= 1):
		return fmt.Errorf("overlap share must be above 0 and up to 1, got %g", s.OverlapShare)
	case !(s.SeenDistance >= 0):
		return fmt.Errorf("seen distance must be at least 0 m, got %g", float64(s.SeenDistance))
	case !(s.SurveyedShare > 0 && s.SurveyedShare <= 1):
		return fmt.Errorf("surveyed share must be above 0 and up to 1, got %g", s.SurveyedShare)
	case !(s.KeptWithin >= 0 && s.KeptWithin <= 1):
		return fmt.Errorf("kept within must be 0 to 1, got %g", s.KeptWithin)
	}
	return nil
}

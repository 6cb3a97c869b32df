package followup

import (
	"fmt"

	"driftreach/geo"
	"driftreach/internal/stand"
)

// Settings are the rules of follow-up.
type Settings struct {
	// RevisitMonths is the time within which a treated stand is looked at again. Default 12,
	// assumed: one growing season.
	RevisitMonths int
	// ClearYears is the number of clear looks, at least a year apart, after which a stand is
	// released. Default 5: landowner and watershed handbooks ask for at least five years.
	ClearYears int
	// Season is the first and last month, 1 to 12, in which regrowth is treated; a season may extend
	// over the end of the year. Default March to November, assumed.
	Season [2]int
	// RetreatDays is the time within which regrowth is treated again, counted within the season.
	// Default 60, assumed.
	RetreatDays int
	// JoinDistance is the largest distance from a footprint at which work that names no stand counts
	// for it: the join distance of the stands.
	JoinDistance geo.Meters
}

// DefaultSettings returns the defaults named on each field.
func DefaultSettings() Settings {
	return Settings{RevisitMonths: 12, ClearYears: 5, Season: [2]int{3, 11}, RetreatDays: 60, JoinDistance: stand.DefaultSettings().JoinDistance}
}

// Validate returns an error naming the first value out of range.
func (s Settings) Validate() error {
	switch {
	case s.RevisitMonths < 1:
		return fmt.Errorf("revisit months must be at least 1, got %d", s.RevisitMonths)
	case s.ClearYears < 1:
		return fmt.Errorf("clear years must be at least 1, got %d", s.ClearYears)
	case s.Season[0] < 1 || s.Season[0] > 12 || s.Season[1] < 1 || s.Season[1] > 12:
		return fmt.Errorf("season must be two months of 1 to 12, got %d and %d", s.Season[0], s.Season[1])
	case s.RetreatDays < 1:
		return fmt.Errorf("retreat days must be at least 1, got %d", s.RetreatDays)
	case !(s.JoinDistance >= 0):
		return fmt.Errorf("join distance must be 0 m or more, got %g", float64(s.JoinDistance))
	}
	return nil
}

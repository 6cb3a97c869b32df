package drift

import (
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Release is what the patch of one record releases: its canopy acres times the fragments of an
// acre, and only a share of that once it is treated or dead. A drawn patch counts by its drawn
// area. What was not measured is taken from rules.
func (s Settings) Release(r *survey.Record, rules stand.Settings) float64 {
	patch := stand.PatchOf(*r, rules)
	if r.Outline != nil {
		patch.Area = stand.OutlineArea(r.Outline)
	}
	amount := float64(patch.Area.Acres()) * patch.CoverPercent / 100 * s.FragmentsPerAcre
	if r.Status == survey.Treated || r.Status == survey.StandingDead {
		amount *= float64(s.TreatedRelease)
	}
	return amount
}

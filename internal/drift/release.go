package drift

import (
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Release is the amount released by the patch of one record: its canopy acres times fragments per
// acre, or a share of that if it is treated or dead. A drawn patch counts by its drawn area. rules
// supplies what was not measured.
func (s Settings) Release(r *survey.Record, rules stand.Settings) Amount {
	patch := stand.PatchOf(*r, rules)
	if r.Outline != nil {
		patch.Area = stand.OutlineArea(r.Outline)
	}
	amount := Amount(float64(patch.Area.Acres()) * patch.CoverPercent / 100 * float64(s.FragmentsPerAcre))
	if r.Status == survey.Treated || r.Status == survey.StandingDead {
		amount = amount.part(s.TreatedRelease)
	}
	return amount
}

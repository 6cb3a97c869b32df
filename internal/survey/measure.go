package survey

import (
	"fmt"
	"math"

	"driftreach/internal/check"
)

// checkMeasures blanks each measure that cannot be true. It never rejects:
// the position of the plant stays good.
func (c *checker) checkMeasures(r *Record) {
	if area := float64(r.PatchArea); area != 0 && !positive(area) {
		c.blank(r, rulePatch, "patch_area_m2", area, "not above 0")
		r.PatchArea = 0
	}
	if most := c.options.LargestPatch; most > 0 && r.PatchArea > most {
		c.report(r, rulePatchSize, "patch_area_m2", plain(float64(r.PatchArea)),
			fmt.Sprintf("the patch is larger than %.0f square metres; it was kept", float64(most)))
	}
	if least := c.options.SmallestPatch; r.PatchArea > 0 && r.PatchArea < least {
		c.report(r, rulePatchSize, "patch_area_m2", plain(float64(r.PatchArea)),
			fmt.Sprintf("the patch is smaller than %g square metres; it was kept", float64(least)))
	}
	if u := float64(r.Uncertainty); u != 0 && !positive(u) {
		c.blank(r, ruleUncertainty, "coordinateUncertaintyInMeters", u, "not above 0")
		r.Uncertainty = 0
	}
	if !math.IsNaN(r.Cover) && !(r.Cover >= 0 && r.Cover <= 100) {
		c.blank(r, ruleCover, "canopy_cover_percent", r.Cover, "not 0 to 100")
		r.Cover = math.NaN()
	}
	if !math.IsNaN(r.StemHeight) && !positive(r.StemHeight) {
		c.blank(r, ruleHeight, "stem_height_m", r.StemHeight, "not above 0")
		r.StemHeight = math.NaN()
	}
}

func positive(v float64) bool { return v > 0 && !math.IsInf(v, 1) }

// RulePatchNotPositive and RuleUncertaintyNotPositive are for readers, which
// meet a written 0 that a Record cannot tell from "not recorded".
func RulePatchNotPositive() check.Rule { return rulePatch }

// RuleUncertaintyNotPositive is the rule for an uncertainty of 0 or less.
func RuleUncertaintyNotPositive() check.Rule { return ruleUncertainty }

// RulePositionMissing is the rule for a record without a position.
func RulePositionMissing() check.Rule { return ruleNoPosition }

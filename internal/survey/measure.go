package survey

import (
	"fmt"
	"math"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// checkMeasures blanks each implausible measure. It never rejects a record, since its position is still
// good.
func (c *checker) checkMeasures(r *Record) {
	c.checkPatch(r)
	if u := float64(r.Uncertainty); u != 0 && !(u > 0) {
		c.blank(r, ruleUncertainty, "coordinateUncertaintyInMeters", u, "not above 0")
		r.Uncertainty = 0
	} else if u > mostUncertainty {
		c.blank(r, ruleBounds, "coordinateUncertaintyInMeters", u, fmt.Sprintf("above %d m, which tells no place", mostUncertainty))
		r.Uncertainty = 0
	}
	if !math.IsNaN(r.Cover) && !(r.Cover >= 0 && r.Cover <= 100) {
		c.blank(r, ruleCover, "canopy_cover_percent", r.Cover, "not 0 to 100")
		r.Cover = math.NaN()
	}
	if !math.IsNaN(float64(r.StemHeight)) && !(r.StemHeight > 0) {
		c.blank(r, ruleHeight, "stem_height_m", float64(r.StemHeight), "not above 0")
		r.StemHeight = geo.Meters(math.NaN())
	} else if r.StemHeight > mostHeight {
		c.blank(r, ruleBounds, "stem_height_m", float64(r.StemHeight), fmt.Sprintf("above %d m, which no cane has", mostHeight))
		r.StemHeight = geo.Meters(math.NaN())
	}
}

// The largest plausible values.
const (
	mostUncertainty = 100_000 // our choice, metres: the middle of a county
	mostHeight      = 40      // our choice, metres: the tallest bamboo; heights in feet read as metres soon exceed it
)

// checkPatch blanks an implausible patch area.
func (c *checker) checkPatch(r *Record) {
	field, area := "patch_area_m2", float64(r.PatchArea)
	if r.Outline != nil {
		field, area = "geometry", float64(earth.Area(r.Outline))
	}
	why, rule := "", rulePatchSize
	most, least := float64(c.options.LargestPatch), float64(c.options.SmallestPatch)
	switch {
	case area == 0 && r.Outline == nil:
		return
	case !(area > 0):
		why, rule = "not above 0", rulePatch
	case most > 0 && area > most:
		why = fmt.Sprintf("larger than %s m2", check.Number(most))
	case area < least:
		why = fmt.Sprintf("smaller than %s m2", check.Number(least))
	default:
		if r.Outline != nil {
			c.compareAreas(r, area)
		}
		return
	}
	c.blank(r, rule, field, area, why)
	r.PatchArea, r.Outline = 0, nil
}

// RulePatchNotPositive is the rule for a patch of 0 or less. It is for readers: they see a written 0,
// which in a Record means "not recorded".
func RulePatchNotPositive() check.Rule { return rulePatch }

// RuleUncertaintyNotPositive is the rule for an uncertainty of 0 or less.
func RuleUncertaintyNotPositive() check.Rule { return ruleUncertainty }

// RulePositionMissing is the rule for a record without a position.
func RulePositionMissing() check.Rule { return ruleNoPosition }

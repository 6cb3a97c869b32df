package unit

import "driftreach/internal/check"

// The rules of this package. A rejected unit has an Error; what was repaired,
// renamed or made up has a Warning or a Note.
var (
	ruleEmpty      = check.Rule{Code: "unit-empty", Severity: check.Error, Remedy: "draw the unit as an area, or remove the row"}
	ruleNotFinite  = check.Rule{Code: "unit-not-finite", Severity: check.Error, Remedy: "repair the vertex that is no number"}
	ruleOutOfRange = check.Rule{Code: "unit-out-of-range", Severity: check.Error, Remedy: "give WGS 84 degrees, or name the reference system with --units-crs, as in EPSG:26911"}
	ruleNullIsland = check.Rule{Code: "unit-null-island", Severity: check.Error, Remedy: "enter the true corner"}
	ruleNoArea     = check.Rule{Code: "unit-without-area", Severity: check.Error, Remedy: "draw an outline that encloses ground"}
	ruleDuplicate  = check.Rule{Code: "unit-duplicate", Severity: check.Error, Remedy: "remove the copy"}
	ruleRepaired   = check.Rule{Code: "unit-outline-repaired", Severity: check.Warning, Remedy: "look at the outline in a viewer; it crosses or touches itself"}
	ruleSameID     = check.Rule{Code: "unit-id-duplicate", Severity: check.Warning, Remedy: "give each unit a unit_id of its own; parts of one unit need the same unit_name"}
	ruleParts      = check.Rule{Code: "unit-in-parts", Severity: check.Note, Remedy: "nothing to do where the features are parts of one unit"}
	ruleOverlap    = check.Rule{Code: "unit-overlap", Severity: check.Warning, Remedy: "draw the two along one line; till then the unit whose id comes first has the ground"}
	ruleOverlaps   = check.Rule{Code: "unit-overlap-many", Severity: check.Warning, Remedy: "look for a layer that was given twice, or for copies under other ids, and check again"}
	ruleGap        = check.Rule{Code: "unit-gap", Severity: check.Warning, Remedy: "draw the neighbours along one line, or add the unit that is missing; nothing to do where the ground belongs to no unit"}
	ruleNoID       = check.Rule{Code: "unit-id-missing", Severity: check.Note, Remedy: "fill in unit_id, so that a unit can be followed from quarter to quarter"}
)

// Rules returns every rule of this package.
func Rules() []check.Rule {
	return []check.Rule{
		ruleEmpty, ruleNotFinite, ruleOutOfRange, ruleNullIsland, ruleNoArea, ruleDuplicate, ruleRepaired,
		ruleSameID, ruleParts, ruleOverlap, ruleOverlaps, ruleGap, ruleNoID,
	}
}

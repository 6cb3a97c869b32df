package column

import "driftreach/internal/check"

// The rules of this package.
var (
	ruleUnitByName = check.Rule{Code: "unit-by-name", Severity: check.Note, Remedy: "nothing to do; or name the unit under [units]"}
	ruleUnitMixed  = check.Rule{Code: "unit-mixed", Severity: check.Warning, Remedy: "name the unit of the plain numbers under [units]"}
	ruleShares     = check.Rule{Code: "percent-like-shares", Severity: check.Warning, Remedy: "if they are shares of 1, name the unit share for this column under [units]; if they are percentages, name the unit %"}
	ruleSomeShares = check.Rule{Code: "percent-and-shares", Severity: check.Warning, Remedy: "write all of them as percent, or a % beside each number that is one; if the small ones are right, name the unit % for this column under [units]"}
	ruleTinyAreas  = check.Rule{Code: "area-like-acres", Severity: check.Warning, Remedy: "if they are acres or hectares, write the unit beside each number, or name it for the column under [units]; if patches that small were measured, name the unit m2"}
	ruleNoColumn   = check.Rule{Code: "column-not-found", Severity: check.Warning, Remedy: "correct the name in the settings"}
	ruleCut        = check.Rule{Code: "column-cut-short", Severity: check.Warning, Remedy: "map the column in the settings, or give the layer as GeoPackage, which keeps whole names"}
	ruleTwoValued  = check.Rule{Code: "column-two-valued", Severity: check.Warning, Remedy: "if the column says whether the plant was found, map it as occurrenceStatus"}
	ruleUnread     = check.Rule{Code: "column-not-read", Severity: check.Warning, Remedy: "map it under [columns.points], [columns.streams] and so on in the settings, as check proposes; or give the field the name \"\" there if it is something else"}
)

// Rules returns every rule of this package.
func Rules() []check.Rule {
	return []check.Rule{ruleNoColumn, ruleTwoValued, ruleUnread, ruleUnitByName, ruleUnitMixed, ruleShares, ruleSomeShares, ruleTinyAreas, ruleCut}
}

package format

import "driftreach/internal/check"

// The rules for formats.
var (
	RuleEncoding      = check.Rule{Code: "encoding-assumed", Severity: check.Note, Remedy: "save the file as UTF-8"}
	ruleSystemOther   = check.Rule{Code: "reference-system-other", Severity: check.Note, Remedy: "check which of the two systems is right"}
	ruleSystemAssumed = check.Rule{Code: "reference-system-assumed", Severity: check.Note, Remedy: "put the .prj file beside it, or name its system with --points-crs, --streams-crs and so on"}
	ruleDatum         = check.Rule{Code: "datum-taken-as-wgs84", Severity: check.Note, Remedy: "nothing to do unless positions are better than two metres"}
	RuleLists         = check.Rule{Code: "column-of-lists", Severity: check.Note, Remedy: "nothing to do, or give each value its own column"}
	RuleNoTable       = check.Rule{Code: "table-missing", Severity: check.Warning, Remedy: "copy the .dbf with the .shp: it has the columns; nothing to do if there never was one"}
	RuleHeaderTwice   = check.Rule{Code: "header-duplicate", Severity: check.Warning, Remedy: "give every column its own name"}
)

// Rules returns every rule for formats.
func Rules() []check.Rule {
	return []check.Rule{RuleEncoding, ruleSystemOther, ruleSystemAssumed, ruleDatum, RuleLists, RuleNoTable, RuleHeaderTwice}
}

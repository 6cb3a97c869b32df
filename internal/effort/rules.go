package effort

import "driftreach/internal/check"

// The rules of this package. A rejected piece has an Error.
var (
	ruleEmpty      = check.Rule{Code: "surveyed-empty", Severity: check.Error, Remedy: "draw what was walked as a line, what was covered as an area, or remove the row"}
	ruleNotFinite  = check.Rule{Code: "surveyed-not-finite", Severity: check.Error, Remedy: "repair the vertex that is no number"}
	ruleOutOfRange = check.Rule{Code: "surveyed-out-of-range", Severity: check.Error, Remedy: "give WGS 84 degrees, or name the reference system with --surveyed-crs, as in EPSG:26911"}
	ruleNullIsland = check.Rule{Code: "surveyed-null-island", Severity: check.Error, Remedy: "remove the vertex; 0, 0 is what a unit without a fix records"}
	ruleDuplicate  = check.Rule{Code: "surveyed-duplicate", Severity: check.Note, Remedy: "nothing to do; ground looked at twice counts once"}
	ruleBackwards  = check.Rule{Code: "surveyed-dates-reversed", Severity: check.Warning, Remedy: "put the earlier day into start_date"}
	ruleMethod     = check.Rule{Code: "surveyed-method-unknown", Severity: check.Warning, Remedy: "use foot, boat, air or image, or map the word under [values.method]"}
	ruleBank       = check.Rule{Code: "surveyed-bank-unknown", Severity: check.Warning, Remedy: "use left, right or both, looking downstream, or map the word under [values.bank]"}
	ruleOutside    = check.Rule{Code: "surveyed-outside-quarter", Severity: check.Warning, Remedy: "correct the date; ground looked at in another quarter belongs to that quarter's batch"}
)

// Rules returns every rule of this package.
func Rules() []check.Rule {
	return []check.Rule{ruleEmpty, ruleNotFinite, ruleOutOfRange, ruleNullIsland, ruleDuplicate, ruleBackwards, ruleMethod, ruleBank, ruleOutside}
}

// RuleMethod is the rule for a way of looking at ground that is not known.
func RuleMethod() check.Rule { return ruleMethod }

// RuleBank is the rule for a bank that is not known.
func RuleBank() check.Rule { return ruleBank }

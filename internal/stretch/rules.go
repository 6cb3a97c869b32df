package stretch

import "driftreach/internal/check"

// The rules about where to survey next. None of them changes a figure of a stand.
var (
	ruleLeftOut = check.Rule{Code: "survey-next-left-out", Severity: check.Note, Remedy: "if you want the list, set survey_next.write to always"}
	ruleMemory  = check.Rule{Code: "survey-next-begins", Severity: check.Note, Remedy: "nothing to do; to include the earlier quarters, run them again with this version and survey_next.write = \"always\""}
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return []check.Rule{ruleLeftOut, ruleMemory} }

// RuleLeftOut is the rule for a list that was not made because there are too many stands.
func RuleLeftOut() check.Rule { return ruleLeftOut }

// RuleMemory is the rule for a last batch that stored no exposure of its banks.
func RuleMemory() check.Rule { return ruleMemory }

package control

import "driftreach/internal/check"

// The rules of this package. A rejected piece of work has an Error.
var (
	ruleNoDate     = check.Rule{Code: "treatment-date-missing", Severity: check.Error, Remedy: "enter the day of the work as in 2026-07-15"}
	ruleAfter      = check.Rule{Code: "treatment-after-quarter", Severity: check.Note, Remedy: "nothing to do where the file goes on past the quarter; else correct the date"}
	ruleNoPlace    = check.Rule{Code: "treatment-without-place", Severity: check.Error, Remedy: "enter the stand_id, or the position of the work"}
	ruleNotFinite  = check.Rule{Code: "treatment-not-finite", Severity: check.Error, Remedy: "enter the stand_id, or a position in finite numbers"}
	ruleOutOfRange = check.Rule{Code: "treatment-out-of-range", Severity: check.Error, Remedy: "give WGS 84 degrees, or name the reference system with --treatments-crs, as in EPSG:26911"}
	ruleNullIsland = check.Rule{Code: "treatment-null-island", Severity: check.Error, Remedy: "enter the true position; 0, 0 is what a unit without a fix records"}
	ruleLostPlace  = check.Rule{Code: "treatment-position-left-out", Severity: check.Warning, Remedy: "correct the position; the stand_id alone says which stand was treated"}
	ruleDuplicate  = check.Rule{Code: "treatment-duplicate", Severity: check.Error, Remedy: "remove the copy"}
	ruleAcres      = check.Rule{Code: "treatment-acres-not-positive", Severity: check.Warning, Remedy: "give treated_acres above 0, or leave it blank"}
	ruleMethod     = check.Rule{Code: "treatment-method-other", Severity: check.Note, Remedy: "use a known method, map the word under [values.method], or leave it: it is printed as it stands"}
	ruleClass      = check.Rule{Code: "treatment-formulation-other", Severity: check.Note, Remedy: "use aquatic-labelled, general or none, map the word under [values.formulation_class], or leave it: it is printed as it stands"}
)

// misplacedRules are the rules of positions that cannot be one.
var misplacedRules = map[check.Misplaced]check.Rule{check.NotFinite: ruleNotFinite, check.NullIsland: ruleNullIsland, check.OutOfRange: ruleOutOfRange}

// RulePositionLeftOut is for readers, which meet positions that cannot be read
// before Check does.
func RulePositionLeftOut() check.Rule { return ruleLostPlace }

// Rules returns every rule of this package.
func Rules() []check.Rule {
	return []check.Rule{
		ruleNoDate, ruleAfter, ruleNoPlace, ruleNotFinite, ruleOutOfRange, ruleNullIsland, ruleLostPlace,
		ruleDuplicate, ruleAcres, ruleMethod, ruleClass,
	}
}

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
	ruleLostGround = check.Rule{Code: "treatment-area-left-out", Severity: check.Warning, Remedy: "draw the ground that was treated as an area in WGS 84 degrees, or name its reference system with --treatments-crs"}
	ruleElsewhere  = check.Rule{Code: "treatment-area-elsewhere", Severity: check.Warning, Remedy: "correct the stand_id or the area; nothing to do where the ground beside the stand was treated"}
	ruleDuplicate  = check.Rule{Code: "treatment-duplicate", Severity: check.Error, Remedy: "remove the copy"}
	ruleAcres      = check.Rule{Code: "treatment-acres-not-positive", Severity: check.Warning, Remedy: "give treated_acres above 0, or leave it blank"}
	ruleNoAcres    = check.Rule{Code: "treatment-acres-missing", Severity: check.Note, Remedy: "enter treated_acres, so that the work counts among the acres treated"}
	ruleBound      = check.Rule{Code: "treatment-measure-implausible", Severity: check.Warning, Remedy: "check the unit, name it under [units.treatments], and what the source writes for unknown; leave the value blank when it is unknown"}
	ruleAmountUnit = check.Rule{Code: "treatment-amount-without-unit", Severity: check.Note, Remedy: "enter amount_unit, as in gal or L; amounts without a unit are summed apart"}
	ruleTime       = check.Rule{Code: "treatment-time-unreadable", Severity: check.Note, Remedy: "write the time of day as 08:30 or 8:30 AM"}
	ruleTimes      = check.Rule{Code: "treatment-times-reversed", Severity: check.Warning, Remedy: "correct start_time and end_time; work past midnight is two rows, one a day"}
	ruleBeyond     = check.Rule{Code: "treatment-acres-beyond-stand", Severity: check.Warning, Remedy: "check treated_acres and its unit, and the stand_id; nothing to do where more ground than the stand was treated, or the same ground again"}
	ruleEarly      = check.Rule{Code: "treatment-before-quarter", Severity: check.Note, Remedy: "nothing to do where it counted in its own quarter; else name an earlier day with survey.since, or run that quarter again with it"}
	ruleMethod     = check.Rule{Code: "treatment-method-other", Severity: check.Note, Remedy: "use a known method, map the word under [values.method], or leave it: it is printed as it stands"}
	ruleClass      = check.Rule{Code: "treatment-formulation-other", Severity: check.Note, Remedy: "use aquatic-labelled, general or none, map the word under [values.formulation_class], or leave it: it is printed as it stands"}
)

// misplacedRules are the rules of positions that cannot be one.
var misplacedRules = map[check.Misplaced]check.Rule{check.NotFinite: ruleNotFinite, check.NullIsland: ruleNullIsland, check.OutOfRange: ruleOutOfRange}

// RulePositionLeftOut is for readers, which meet positions that cannot be read
// before Check does.
func RulePositionLeftOut() check.Rule { return ruleLostPlace }

// RuleBeyondStand is for work that tells of far more acres than its stand has.
func RuleBeyondStand() check.Rule { return ruleBeyond }

// RuleElsewhere is for work whose area meets no ground of the stand it names.
func RuleElsewhere() check.Rule { return ruleElsewhere }

// RuleBeforeQuarter is for work that counts in no quarter's acres.
func RuleBeforeQuarter() check.Rule { return ruleEarly }

// Rules returns every rule of this package.
func Rules() []check.Rule {
	return []check.Rule{
		ruleNoDate, ruleAfter, ruleNoPlace, ruleNotFinite, ruleOutOfRange, ruleNullIsland, ruleLostPlace, ruleLostGround, ruleElsewhere,
		ruleDuplicate, ruleAcres, ruleNoAcres, ruleBound, ruleAmountUnit, ruleTime, ruleTimes, ruleBeyond, ruleEarly, ruleMethod, ruleClass,
	}
}

package treatment

import "driftreach/internal/check"

var book check.Book

// The rules of this package. A rejected piece of work has an Error.
var (
	ruleNoDate     = book.Error("treatment-date-missing", "enter the day of the work as in 2026-07-15")
	ruleAfter      = book.Note("treatment-after-quarter", "nothing to do if the file also covers later quarters; else correct the date")
	ruleNoPlace    = book.Error("treatment-without-place", "enter the stand_id, or the position of the work")
	misplaced      = book.Misplaced("treatment", "--treatments-crs", "enter the stand_id, or a position in finite numbers", "enter the true position; 0, 0 is what a unit without a fix records")
	ruleLostPlace  = book.Warning("treatment-position-left-out", "correct the position; the stand_id alone says which stand was treated")
	ruleLostGround = book.Warning("treatment-area-left-out", "draw the ground that was treated as an area in WGS 84 degrees, or name its reference system with --treatments-crs")
	ruleElsewhere  = book.Warning("treatment-area-elsewhere", "correct the stand_id or the area; nothing to do if ground beside the stand was treated")
	ruleDuplicate  = book.Duplicate("treatment")
	ruleAcres      = book.Warning("treatment-acres-not-positive", "give treated_acres above 0, or leave it blank")
	ruleNoAcres    = book.Note("treatment-acres-missing", "enter treated_acres, so that the work counts among the acres treated")
	ruleBound      = book.Warning("treatment-measure-implausible", "check the unit and name it under [units.treatments]; check what the source writes for unknown, and leave such values blank")
	ruleAmountUnit = book.Note("treatment-amount-without-unit", "enter amount_unit, as in gal or L; amounts without a unit are added up separately")
	ruleTime       = book.Note("treatment-time-unreadable", "write the time of day as 08:30 or 8:30 AM")
	ruleTimes      = book.Warning("treatment-times-reversed", "correct start_time and end_time; enter work past midnight as two rows, one for each day")
	rulePhotos     = book.Note("treatment-photos-unnumbered", "write the numbers or names that the camera gave, as in 0412-0418")
	ruleForm       = book.Note("treatment-form-blank", "nothing to do if the stands were not treated; else fill in the date of the work and what was done")
	ruleBeyond     = book.Warning("treatment-acres-beyond-stand", "check treated_acres, its unit, and the stand_id; nothing to do if ground around the stand was treated too, or the same ground twice")
	ruleEarly      = book.Note("treatment-before-quarter", "nothing to do for work from before the first batch; to count it in this quarter, set survey.since to an earlier day")
	ruleLate       = book.Warning("treatment-too-late", "run the batches from the quarter of that work on again with it; or set survey.since to an earlier day, so that it counts in this quarter")
	ruleMethod     = book.Note("treatment-method-other", "use a known method, map the word under [values.method], or leave it: it is printed as entered")
	ruleClass      = book.Note("treatment-formulation-other", "use aquatic-labelled, general or none, map the word under [values.formulation_class], or leave it: it is printed as entered")
)

// RulePositionLeftOut is the rule for positions that cannot be read. Readers use it before Check.
func RulePositionLeftOut() check.Rule { return ruleLostPlace }

// RuleBlankForm is the rule for rows that were handed out to be filled in and came back blank.
func RuleBlankForm() check.Rule { return ruleForm }

// RuleBeyondStand is the rule for work of far more acres than its stand has.
func RuleBeyondStand() check.Rule { return ruleBeyond }

// RuleElsewhere is the rule for work whose area does not meet the stand it names.
func RuleElsewhere() check.Rule { return ruleElsewhere }

// RuleBeforeQuarter is the rule for work that counts in no quarter's acres.
func RuleBeforeQuarter() check.Rule { return ruleEarly }

// RuleTooLate is the rule for work of an earlier quarter of the chain that counts in no quarter's acres.
func RuleTooLate() check.Rule { return ruleLate }

// Rules returns every rule of this package.
func Rules() []check.Rule { return book.Rules() }

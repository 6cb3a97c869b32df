package surveyed

import "driftreach/internal/check"

var book check.Book

// The rules of this package. A rejected piece has an Error.
var (
	ruleEmpty     = book.Error("surveyed-empty", "draw the walked route as a line or the covered ground as an area, or remove the row")
	misplaced     = book.Misplaced("surveyed", "--surveyed-crs", check.RepairVertex, "remove the vertex; 0, 0 is what a unit without a fix records")
	ruleDuplicate = book.Note("surveyed-duplicate", "nothing to do; ground looked at twice counts once")
	ruleBackwards = book.Warning("surveyed-dates-reversed", "put the earlier day into start_date")
	ruleMethod    = book.Warning("surveyed-method-unknown", "use foot, boat, air or image, or map the word under [values.method]")
	ruleBank      = book.Warning("surveyed-bank-unknown", "use left, right or both, looking downstream, or map the word under [values.bank]")
	ruleOutside   = book.Warning("surveyed-outside-quarter", "correct the date; ground looked at in another quarter belongs to that quarter's batch")
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return book.Rules() }

// RuleMethod is the rule for an unknown survey method.
func RuleMethod() check.Rule { return ruleMethod }

// RuleBank is the rule for an unknown bank.
func RuleBank() check.Rule { return ruleBank }

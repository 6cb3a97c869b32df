package correction

import (
	"strconv"

	"driftreach/internal/check"
)

// The rules of this package. A row that is not applied has an Error, but for those
// that have nothing to do yet or again.
var (
	ruleKind       = check.Rule{Code: "correction-unknown-kind", Severity: check.Error, Remedy: "use misidentified, same stand as, not the same stand or absence was wrong, or map the word under [values.correction]"}
	ruleNoDate     = check.Rule{Code: "correction-date-missing", Severity: check.Error, Remedy: "enter the day it was found out as in 2026-07-15"}
	ruleNoSubject  = check.Rule{Code: "correction-without-subject", Severity: check.Error, Remedy: "name the record by its occurrenceID or the stand by its stand_id; for one stand or two also the other in other_stand_id"}
	ruleAfter      = check.Rule{Code: "correction-after-quarter", Severity: check.Note, Remedy: "nothing to do where the file goes on past the quarter; else correct the date"}
	ruleDuplicate  = check.Rule{Code: "correction-duplicate", Severity: check.Note, Remedy: "nothing to do; or remove the copy"}
	ruleContradict = check.Rule{Code: "correction-contradicts", Severity: check.Error, Remedy: "take the wrong one of the two out"}
	ruleSuperseded = check.Rule{Code: "correction-superseded", Severity: check.Warning, Remedy: "nothing to do where the later row is right; else take it out"}
	ruleUnknown    = check.Rule{Code: "correction-not-found", Severity: check.Error, Remedy: "name a record that counts in this quarter or stands in the batch before, or a stand of that batch; a stand of this quarter has no fixed identity yet: name its records"}
	ruleApplied    = check.Rule{Code: "correction-applied", Severity: check.Warning, Remedy: "nothing to do: the chain keeps it, and tells the difference as restated"}
	ruleNoEffect   = check.Rule{Code: "correction-without-effect", Severity: check.Warning, Remedy: "see whether the row names what it means, and its day"}
	ruleLater      = check.Rule{Code: "correction-record-later", Severity: check.Warning, Remedy: "look again which is right; where the later record is wrong too, give a row with a later day"}
)

// Rules returns every rule of this package.
func Rules() []check.Rule {
	return []check.Rule{
		ruleKind, ruleNoDate, ruleNoSubject, ruleAfter, ruleDuplicate, ruleContradict, ruleSuperseded,
		ruleUnknown, ruleApplied, ruleNoEffect, ruleLater,
	}
}

// Finding is one about a row.
func (c *Correction) finding(rule check.Rule, field, value, message string) check.Finding {
	return check.Finding{Rule: rule, File: c.File, Record: "row " + strconv.Itoa(c.Row), Field: field, Value: value, Message: message}
}

// Unknown says that a row names what nobody knows.
func (c *Correction) Unknown(field, id string) check.Finding {
	what := "stand"
	if field == "occurrenceID" {
		what = "record"
	}
	return c.finding(ruleUnknown, field, id, "no "+what+" of this id is known here; the row was not applied")
}

// Applied tells what a row did.
func (c *Correction) Applied(effect string) check.Finding {
	return c.finding(ruleApplied, "correction", string(c.Kind), effect)
}

// WithoutEffect tells why a row did nothing.
func (c *Correction) WithoutEffect(why string) check.Finding {
	return c.finding(ruleNoEffect, "correction", string(c.Kind), why+"; the row changes nothing")
}

// Later says that a record that a row names was seen again after its day.
func (c *Correction) Later(id, day string) check.Finding {
	return c.finding(ruleLater, "occurrenceID", id, "the record is of "+day+", later than the correction; it counts")
}

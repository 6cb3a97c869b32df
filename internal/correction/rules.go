package correction

import (
	"cmp"
	"fmt"
	"strings"

	"driftreach/internal/check"
)

var book check.Book

// The rules of this package. A row that is not applied is an Error, unless it has nothing to change yet
// or has been applied before.
var (
	ruleKind       = book.Error("correction-unknown-kind", "use misidentified, same stand as, not the same stand or absence was wrong, or map the word under [values.correction]")
	ruleNoDate     = book.Error("correction-date-missing", "enter the day on which it was found out, as in 2026-07-15")
	ruleNoSubject  = book.Error("correction-without-subject", "name the record by its occurrenceID, or the stand by its stand_id; where two stands are joined or parted, name the other one in other_stand_id")
	ruleAfter      = book.Note("correction-after-quarter", "nothing to do if the file also covers later quarters; else correct the date")
	ruleDuplicate  = book.Note("correction-duplicate", "nothing to do; or remove the copy")
	ruleContradict = book.Error("correction-contradicts", "remove the wrong one of the two")
	ruleSuperseded = book.Warning("correction-superseded", "nothing to do if the later row is right; else remove it")
	ruleUnknown    = book.Error("correction-not-found", "name a record of this quarter or of the batch before, or a stand of that batch; a stand that is new this quarter has no fixed identity yet: name its records")
	ruleApplied    = book.Warning("correction-applied", "nothing to do: later batches keep the correction, and count the difference as restated acres")
	ruleNoEffect   = book.Warning("correction-without-effect", "check that the row names the right record or stand, and its day")
	ruleBeside     = book.Warning("correction-finds-beside", "nothing to do if these are the plant; else add a row with the occurrenceID of each that is not")
	ruleLater      = book.Warning("correction-record-later", "check which of the two is right; if the later record is wrong too, add a row with a later day")
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return book.Rules() }

// Unknown says that a row names something that does not exist.
func (c *Correction) Unknown(field, id string) check.Finding {
	what := "stand"
	if field == "occurrenceID" {
		what = "record"
	}
	return kind.Finding(c, ruleUnknown, field, id, "no "+what+" of this id is known here; the row was not applied")
}

// Applied says what a row changed.
func (c *Correction) Applied(effect string) check.Finding {
	return kind.Finding(c, ruleApplied, "correction", string(c.Kind), effect)
}

// WithoutEffect says why a row changed nothing.
func (c *Correction) WithoutEffect(why string) check.Finding {
	return kind.Finding(c, ruleNoEffect, "correction", string(c.Kind), why+"; the row changes nothing")
}

// Later says that a record named in a row was seen again after the row's day.
func (c *Correction) Later(id, day string) check.Finding {
	return kind.Finding(c, ruleLater, "occurrenceID", id, "the record is of "+day+", later than the correction; it counts")
}

// mostBeside is the largest number of finds that a finding names. Our choice.
const mostBeside = 8

// Beside says that finds of this quarter are beside a stand that was a look-alike, and count.
func (c *Correction) Beside(stand string, ids []string) check.Finding {
	finds, verb := "finds", "lie"
	if len(ids) == 1 {
		finds, verb = "find", "lies"
	}
	return kind.Finding(c, ruleBeside, "occurrenceID", strings.Join(ids[:min(len(ids), mostBeside)], " "), fmt.Sprintf(
		"%d %s of this quarter %s within the join distance of stand %s, but not on the ground it had in the batch before: counted, since the row withdraws only what was on that ground", len(ids), finds, verb, stand))
}

// kind says how rows are compared and reported.
var kind = check.Kind[Correction]{
	Noun: "row", Duplicate: ruleDuplicate, Copied: "the row is there twice; the copy was left out",
	Origin:  func(c *Correction) (string, int) { return c.File, c.Row },
	Compare: func(a, b *Correction) int { return cmp.Or(compareContent(a, b), strings.Compare(a.Reason, b.Reason)) },
	Same:    (*Correction).Same,
}

// compareContent orders rows by day and content, without their reason.
func compareContent(a, b *Correction) int {
	return cmp.Or(
		a.Date.Compare(b.Date), strings.Compare(string(a.Kind), string(b.Kind)), strings.Compare(a.RecordID, b.RecordID),
		strings.Compare(a.StandID, b.StandID), strings.Compare(a.OtherID, b.OtherID),
	)
}

// Same says whether two rows say the same, with the same day.
func (c *Correction) Same(o *Correction) bool { return compareContent(c, o) == 0 }

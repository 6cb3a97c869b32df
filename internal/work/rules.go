package work

import "driftreach/internal/check"

var book check.Book

// The rules of this package. A rejected work has an Error; a value left out or made up has a
// Warning or a Note.
var (
	ruleEmpty     = book.Error("work-empty", "draw the work's place, or remove the row")
	misplaced     = book.Misplaced("work", "--works-crs", check.RepairVertex, "enter the true place")
	ruleDuplicate = book.Duplicate("work")
	ruleSameID    = book.Warning("work-id-duplicate", "give each work its own work_id")
	ruleNoID      = book.Note("work-id-missing", "fill in work_id, so that a notice can be followed up")
	ruleKind      = book.Note("work-kind-other", "use mowing, earthwork or channel work, map the word under [values.kind], or leave it: it is printed as entered")
	ruleNoKind    = book.Note("work-kind-missing", "fill in kind: mowing, earthwork or channel work")
	ruleBackwards = book.Warning("work-dates-reversed", "put the earlier day into start_date")
	ruleNoEnd     = book.Warning("work-end-missing", "enter end_date as in 2026-10-09")
	ruleNoContact = book.Warning("work-contact-missing", "enter whom to tell under contact")
	ruleOver      = book.Note("work-over", "nothing to do; remove works that are over from the file")
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return book.Rules() }

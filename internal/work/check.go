package work

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/check"
)

// Options are the settings of Check.
type Options struct {
	Begin        time.Time // first day of the quarter; zero if no work is to count as over
	FindingLimit int       // as check.Log.Limit
}

// Check finishes the works of one batch, from all its files together. It rejects works without a
// usable place, makes longitudes continuous across the antimeridian, and leaves out dates whose end
// is before their start. It makes missing ids from file and row, and repeated ids unique. It
// returns the accepted works sorted by id, and the findings. A work that ended before the quarter
// is accepted and reported; Over tells such works. The result depends on the set of works, not on
// their order. It reuses the slice and its geometry. n log n.
func Check(works []Work, o Options) ([]Work, []check.Finding) {
	c := checker{check.Checker[Work]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}, o.Begin}
	return c.Unify(c.Accept(works, c.accept)), c.Findings()
}

// kind says how works are told apart and named in findings.
var kind = check.Kind[Work]{
	Noun: "work", Corner: "position", Misplaced: misplaced, Duplicate: ruleDuplicate,
	Origin:  func(w *Work) (string, int) { return w.File, w.Row },
	At:      func(w *Work) *orb.Point { return check.ShownFirst(w.Paths()) },
	Compare: compareContent,
	Names:   &check.Names[Work]{Field: "work_id", ID: func(w *Work) *string { return &w.ID }, NoID: ruleNoID, SameID: ruleSameID},
}

// accept checks one work alone; false means rejected.
func (c *checker) accept(w *Work) bool {
	if !c.place(w) {
		return false
	}
	c.words(w)
	c.dates(w)
	return true
}

// compareContent orders works by all values except file, row and id.
func compareContent(a, b *Work) int {
	return cmp.Or(
		strings.Compare(a.Kind, b.Kind), a.Start.Compare(b.Start), a.End.Compare(b.End), strings.Compare(a.Contact, b.Contact),
		geo.CompareLines(a.Paths(), b.Paths()),
	)
}

// words checks kind and contact.
func (c *checker) words(w *Work) {
	switch at := slices.IndexFunc(Kinds(), func(k string) bool { return strings.EqualFold(k, plainWords(w.Kind)) }); {
	case at >= 0:
		w.Kind = Kinds()[at]
	case w.Kind == "":
		c.Report(w, ruleNoKind, "kind", "", "the work has no kind")
	default:
		c.Report(w, ruleKind, "kind", w.Kind, "the kind is none of "+strings.Join(Kinds(), ", ")+"; it was kept as entered")
	}
	if w.Contact == "" {
		c.Report(w, ruleNoContact, "contact", "", "no contact is named")
	}
}

// plainWords writes channel_work and channel-work with a space.
func plainWords(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" _-", r) }), " ")
}

// dates checks start and end.
func (c *checker) dates(w *Work) {
	const day = time.DateOnly
	switch {
	case w.End.IsZero():
		c.Report(w, ruleNoEnd, "end_date", "", "the work has no end; it is taken as still to come")
	case w.End.Before(w.Start):
		c.Report(w, ruleBackwards, "end_date", w.End.Format(day), "the work ends before it starts on "+w.Start.Format(day)+"; both dates were left out, and it is taken as still to come")
		w.Start, w.End = time.Time{}, time.Time{}
	case w.Over(c.begin):
		c.Report(w, ruleOver, "end_date", w.End.Format(day), "the work was over before the quarter began; no notice is made of it")
	}
}

package work

import (
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// Options says what Check holds the works against.
type Options struct {
	Begin        time.Time // first day of the quarter; zero for none: no work is over
	FindingLimit int       // as check.Log.Limit
}

// Check finishes the works of one batch, of all its files together: rejects
// those without a usable place, makes longitudes run on across the antimeridian,
// leaves out dates that run backwards, makes missing ids from file and row and
// repeated ids unique, and returns the accepted works sorted by id with what it
// found. A work that was over before the quarter began is accepted and told of;
// Over says so again. The answer depends on the set of works, not on their
// order. It takes the slice and its geometry over. n log n.
func Check(works []Work, o Options) ([]Work, []check.Finding) {
	c := checker{log: check.Log{Limit: o.FindingLimit}, begin: o.Begin}
	made := map[string]bool{}
	kept := works[:0]
	for i := range works {
		w := works[i]
		if !c.place(&w) {
			continue
		}
		c.words(&w)
		c.dates(&w)
		if w.ID == "" {
			w.ID = check.MadeID(w.File, w.Row)
			made[w.ID] = true
			c.report(&w, ruleNoID, "work_id", "", "the work has no id; "+w.ID+" was made from file and row")
		}
		kept = append(kept, w)
	}
	return c.unify(kept, made), c.log.Findings()
}

type checker struct {
	log   check.Log
	begin time.Time
}

// words looks at kind and contact.
func (c *checker) words(w *Work) {
	switch at := slices.IndexFunc(Kinds(), func(k string) bool { return strings.EqualFold(k, plainWords(w.Kind)) }); {
	case at >= 0:
		w.Kind = Kinds()[at]
	case w.Kind == "":
		c.report(w, ruleNoKind, "kind", "", "the work has no kind")
	default:
		c.report(w, ruleKind, "kind", w.Kind, "the kind is none of "+strings.Join(Kinds(), ", ")+"; it was kept as it stands")
	}
	if w.Contact == "" {
		c.report(w, ruleNoContact, "contact", "", "nobody is named who could be told")
	}
}

// plainWords writes channel_work and channel-work with a space.
func plainWords(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" _-", r) }), " ")
}

// dates looks at start and end.
func (c *checker) dates(w *Work) {
	const day = time.DateOnly
	switch {
	case w.End.IsZero():
		c.report(w, ruleNoEnd, "end_date", "", "the work has no end; it is taken as still to come")
	case w.End.Before(w.Start):
		c.report(w, ruleBackwards, "end_date", w.End.Format(day), "the work ends before it starts on "+w.Start.Format(day)+"; both dates were left out, and it is taken as still to come")
		w.Start, w.End = time.Time{}, time.Time{}
	case w.Over(c.begin):
		c.report(w, ruleOver, "end_date", w.End.Format(day), "the work was over before the quarter began; no notice is made of it")
	}
}

// label returns what findings call the work: its id, or "row 12" without one.
func (w *Work) label() string { return check.Label(w.ID, w.File, w.Row) }

func (c *checker) report(w *Work, rule check.Rule, field, value, message string) {
	f := check.Finding{Rule: rule, File: w.File, Record: w.label(), Field: field, Value: value, Message: message}
	if paths := w.Paths(); len(paths) > 0 && len(paths[0]) > 0 && check.PositionOf(paths[0][0]) == check.WellPlaced {
		at := orb.Point{earth.Turned(paths[0][0][0]), paths[0][0][1]}
		f.Position = &at
	}
	c.log.Add(f)
}

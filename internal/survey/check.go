package survey

import (
	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

func newChecker(o Options) *checker {
	c := &checker{options: o, last: DayOf(o.Quarter.End()), aside: map[string]int{}, early: Spans{}, outside: map[string]outside{}, drawn: map[string]drawn{}}
	c.Kind, c.Limit, c.Quiet, c.Settle = kind, o.FindingLimit, o.Quiet, c.settle
	return c
}

// kind says how records are compared and reported.
var kind = check.Kind[Record]{
	Noun: "record", Duplicate: ruleDuplicate, Compare: compareContent,
	Origin: func(r *Record) (string, int) { return r.File, r.Row },
	At: func(r *Record) *orb.Point {
		if p := r.Position; inRange(p) {
			return &p
		}
		return nil
	},
	Names: &check.Names[Record]{
		Field: "occurrenceID", ID: func(r *Record) *string { return &r.ID }, NoID: ruleNoID, SameID: ruleSameID, PerFile: true,
		Other: "another record, of another place or finding, has the same id",
	},
}

// accept checks the record's values one by one.
func (c *checker) accept(r *Record) bool {
	if !c.checkPosition(r) || !c.checkDate(r) {
		return false
	}
	c.checkMeasures(r)
	c.checkUncertainty(r)
	return true
}

func (c *checker) checkDate(r *Record) bool {
	q := c.options.Quarter
	if r.Begin.IsZero() || q.IsZero() {
		return true
	}
	if r.Begin > c.last {
		c.countOutside(r)
		c.Report(r, ruleFuture, "eventDate", r.Begin.String(),
			"the date is later than the end of "+q.String()+"; the record was rejected")
		return false
	}
	return true
}

// Name returns what findings call the record: its id, or "row 12" without one.
func (r *Record) Name() string { return check.Label(r.ID, r.File, r.Row) }

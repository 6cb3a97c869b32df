package survey

import (
	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

// Checked is the result of Examine for the records of one batch.
type Checked struct {
	Records  []Record // accepted, sorted by id
	Findings []check.Finding
	Aside    []Aside // by file
	Quarters []Dated // number of all input records by quarter, the earliest first
}

// Examine checks the records of one batch, from all its files. It sets aside records of earlier
// quarters and rejects those that cannot be records of the quarter. It blanks implausible values, so
// that the defaults are used instead. It makes an id from file and row for records without one. If
// records with the same id show the same plant, only the newest is kept; ids that are still repeated
// are made unique. The result depends on the set of records, not on their order. It takes the slice
// over and returns its memory. The cost is n log n.
func Examine(records []Record, o Options) Checked {
	c := newChecker(o)
	out := Checked{Quarters: countQuarters(records)}
	if !o.First.IsZero() {
		records = c.setEarlierAside(records)
	}
	kept := c.Unify(c.Accept(records, c.accept))
	if !o.Quiet {
		c.findRepeats(kept)
		c.findCoarse(kept)
		c.findTwoCrews(kept)
	}
	out.Records, out.Findings, out.Aside = kept, c.Findings(), c.asides()
	return out
}

func newChecker(o Options) *checker {
	c := &checker{options: o, last: DayOf(o.Quarter.End()), aside: map[string]int{}}
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
		c.Report(r, ruleFuture, "eventDate", r.Begin.String(),
			"the date is later than the end of "+q.String()+"; the record was rejected")
		return false
	}
	return true
}

// Name returns what findings call the record: its id, or "row 12" without one.
func (r *Record) Name() string { return check.Label(r.ID, r.File, r.Row) }

package survey

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

// Checked is what Examine makes of the records of one batch.
type Checked struct {
	Records  []Record // accepted, sorted by id
	Findings []check.Finding
	Aside    []Aside // by file
	Quarters []Dated // of all that were given, the earliest first
}

// Examine finishes the records of one batch, of all its files together. It sets
// aside records of earlier quarters, rejects what cannot be a record of the
// quarter, blanks values that cannot be true (the defaults then stand in), gives
// records without an id one made from file and row, lets the newest look at a
// plant stand for all with its id, and makes ids unique that are still repeated.
// The answer depends on the set of records, not on their order. It takes the
// slice over: the answer shares its memory. Cost: n log n.
func Examine(records []Record, o Options) Checked {
	c := newChecker(o)
	out := Checked{Quarters: countQuarters(records)}
	if !o.First.IsZero() {
		records = c.setEarlierAside(records)
	}
	kept := c.Unify(c.Accept(records, c.accept))
	c.findRepeats(kept)
	c.findCoarse(kept)
	out.Records, out.Findings, out.Aside = kept, c.Findings(), c.asides()
	return out
}

type checker struct {
	check.Checker[Record]
	options Options
	last    Day            // of the quarter
	aside   map[string]int // by file
}

func newChecker(o Options) *checker {
	c := &checker{options: o, last: DayOf(o.Quarter.End()), aside: map[string]int{}}
	c.Kind, c.Limit, c.Settle = kind, o.FindingLimit, c.settle
	return c
}

// kind is how records are told apart and reported.
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

func (c *checker) blank(r *Record, rule check.Rule, field string, v float64, why string) {
	c.Report(r, rule, field, check.Number(v), fmt.Sprintf("%s is %s; the value was left out", field, why))
}

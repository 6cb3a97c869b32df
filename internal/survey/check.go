package survey

import (
	"fmt"
	"maps"
	"strconv"

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
	c := checker{options: o, last: DayOf(o.Quarter.End()), aside: map[string]int{}, log: check.Log{Limit: o.FindingLimit}}
	out := Checked{Quarters: countQuarters(records)}
	if !o.First.IsZero() {
		records = c.setEarlierAside(records)
	}
	nameless := c.namelessFiles(records)
	kept := records[:0]
	made := map[int]bool{}
	for i := range records {
		r := records[i]
		if !c.accept(&r) {
			continue
		}
		if r.ID == "" {
			r.ID = check.MadeID(r.File, r.Row)
			made[len(kept)] = true
			if !nameless[r.File] {
				c.report(&r, ruleNoID, "occurrenceID", "", "the record has no id; "+r.ID+" was made from file and row")
			}
		}
		kept = append(kept, r)
	}
	clear(records[len(kept):])
	kept = c.unify(kept, made)
	c.findRepeats(kept)
	c.findCoarse(kept)
	out.Records, out.Findings, out.Aside = kept, c.log.Findings(), c.asides()
	return out
}

// Check returns the records that Examine accepts, and what it found.
func Check(records []Record, o Options) ([]Record, []check.Finding) {
	done := Examine(records, o)
	return done.Records, done.Findings
}

type checker struct {
	options Options
	last    Day            // of the quarter
	aside   map[string]int // by file
	log     check.Log
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
		c.report(r, ruleFuture, "eventDate", r.Begin.String(),
			"the date is later than the end of "+q.String()+"; the record was rejected")
		return false
	}
	return true
}

// namelessFiles returns the files none of whose records has an id, and tells
// of each once.
func (c *checker) namelessFiles(records []Record) map[string]bool {
	named, all := map[string]bool{}, map[string]bool{}
	file := "" // the one looked at last
	for i := range records {
		r := &records[i]
		if i == 0 || r.File != file {
			file = r.File
			all[file] = true
		}
		if r.ID != "" && !named[file] {
			named[file] = true
		}
	}
	maps.DeleteFunc(all, func(f string, _ bool) bool { return named[f] })
	for f := range all { // the log sorts
		c.log.Add(check.Finding{Rule: ruleNoID, File: f, Field: "occurrenceID", Message: "the file has no ids; they were made from file and row"})
	}
	return all
}

// Name returns what findings call the record: its id, or "row 12" without one.
func (r *Record) Name() string { return check.Label(r.ID, r.File, r.Row) }

func (c *checker) report(r *Record, rule check.Rule, field, value, message string) {
	f := check.Finding{Rule: rule, File: r.File, Record: r.Name(), Field: field, Value: value, Message: message}
	if p := r.Position; inRange(p) {
		f.Position = &p
	}
	c.log.Add(f)
}

func plain(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

func (c *checker) blank(r *Record, rule check.Rule, field string, v float64, why string) {
	c.report(r, rule, field, plain(v), fmt.Sprintf("%s is %s; the value was left out", field, why))
}

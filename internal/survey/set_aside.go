package survey

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/check"
)

// Aside is the number of records of a file that were set aside. They are neither rejected nor counted:
// they are of an earlier quarter, or the same plant was recorded again later.
type Aside struct {
	File    string
	Records int
}

// Span is the range of days of some rows of a file.
type Span struct {
	Rows        int
	First, Last Day
}

// String formats the days as in ISO 8601.
func (s Span) String() string { return dayOrDays(s.First, s.Last) }

// Spans are spans by file.
type Spans map[string]Span

// Take extends the span of a file by one row.
func (s Spans) Take(file string, first, last Day) {
	if had, met := s[file]; met {
		first, last = min(had.First, first), max(had.Last, last)
	}
	s[file] = Span{s[file].Rows + 1, first, last}
}

// isEarly says whether a record's last day is before the first day that counts. Such records are
// evidence of an earlier quarter, and a file with all records of a programme holds many of them.
func (c *checker) isEarly(r *Record) bool {
	return !c.options.First.IsZero() && !r.Begin.IsZero() && r.End < c.options.First
}

// setEarlierAside removes the records of earlier quarters. Records without a date are kept. It takes the
// slice over.
func (c *checker) setEarlierAside(records []Record) []Record {
	if c.options.First.IsZero() {
		return records
	}
	kept := records[:0]
	for i := range records {
		r := &records[i]
		if !c.isEarly(r) {
			kept = append(kept, *r)
			continue
		}
		c.early.Take(r.File, r.Begin, r.End)
		c.countOutside(r)
	}
	clear(records[len(kept):])
	return kept
}

// tellEarly reports, once a file, what was set aside as of earlier quarters.
func (c *checker) tellEarly() {
	for file, s := range c.early { // the log sorts them
		c.aside[file] += s.Rows
		c.Add(check.Finding{
			Rule: ruleEarlier, File: file, Field: "eventDate", Value: s.String(),
			Message: fmt.Sprintf("%s earlier than %s, the first day that counts for %s; set aside, neither rejected nor counted",
				recordsAre(s.Rows), c.options.First, c.options.Quarter),
		})
	}
}

// dayOrDays formats one day, or an interval as in ISO 8601.
func dayOrDays(first, last Day) string {
	if first == last {
		return first.String()
	}
	return first.String() + "/" + last.String()
}

func recordsAre(n int) string {
	if n == 1 {
		return "1 record is"
	}
	return fmt.Sprintf("%d records are", n)
}

// asides returns the numbers set aside, sorted by file.
func (c *checker) asides() []Aside {
	var out []Aside
	for file, n := range c.aside { // sorted below
		out = append(out, Aside{file, n})
	}
	slices.SortFunc(out, func(a, b Aside) int { return strings.Compare(a.File, b.File) })
	return out
}

// Dated is the number of records of a quarter, by their first day.
type Dated struct {
	Quarter Quarter // zero for records without a date
	Records int
}

// byQuarter returns the number of records of each quarter, the earliest first; records without a date
// come before all.
func byQuarter(days map[Day]int) []Dated {
	quarters := map[Quarter]int{}
	for day, n := range days {
		q := Quarter{}
		if !day.IsZero() {
			q = QuarterOf(day)
		}
		quarters[q] += n
	}
	out := make([]Dated, 0, len(quarters))
	for q, n := range quarters { // sorted below
		out = append(out, Dated{q, n})
	}
	slices.SortFunc(out, func(a, b Dated) int {
		return cmp.Or(cmp.Compare(a.Quarter.Year, b.Quarter.Year), cmp.Compare(a.Quarter.Number, b.Quarter.Number))
	})
	return out
}

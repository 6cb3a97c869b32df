package survey

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/check"
)

// Aside is how many records of a file were set aside: neither rejected nor
// counted, since they are of an earlier quarter or the same plant was looked at
// again.
type Aside struct {
	File    string
	Records int
}

// Span is the days that some rows of a file lie in.
type Span struct {
	Rows        int
	First, Last Day
}

// String writes the days as ISO 8601 does.
func (s Span) String() string { return dayOrDays(s.First, s.Last) }

// Spans are spans by file.
type Spans map[string]Span

// Take adds a row to the span of its file.
func (s Spans) Take(file string, first, last Day) {
	if had, met := s[file]; met {
		first, last = min(had.First, first), max(had.Last, last)
	}
	s[file] = Span{s[file].Rows + 1, first, last}
}

// setEarlierAside takes out the records whose last day lies before the first that
// counts: they are evidence of an earlier quarter, which a file of a whole
// programme holds too. Records without a date stay. It takes the slice over.
func (c *checker) setEarlierAside(records []Record) []Record {
	early := Spans{}
	kept := records[:0]
	for i := range records {
		r := &records[i]
		if r.Begin.IsZero() || r.End >= c.options.First {
			kept = append(kept, *r)
			continue
		}
		early.Take(r.File, r.Begin, r.End)
	}
	clear(records[len(kept):])
	for file, s := range early { // the log sorts
		c.aside[file] += s.Rows
		c.Add(check.Finding{
			Rule: ruleEarlier, File: file, Field: "eventDate", Value: s.String(),
			Message: fmt.Sprintf("%s earlier than %s, the first day that counts for %s; set aside, neither rejected nor counted",
				recordsAre(s.Rows), c.options.First, c.options.Quarter),
		})
	}
	return kept
}

// dayOrDays writes one day, or an interval as ISO 8601 does.
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

// asides returns what was set aside by file, sorted.
func (c *checker) asides() []Aside {
	var out []Aside
	for file, n := range c.aside { // sorted below
		out = append(out, Aside{file, n})
	}
	slices.SortFunc(out, func(a, b Aside) int { return strings.Compare(a.File, b.File) })
	return out
}

// Dated is how many records are of a quarter, by their first day.
type Dated struct {
	Quarter Quarter // zero for records without a date
	Records int
}

// countQuarters returns how many records each quarter has, the earliest first and
// those without a date before all.
func countQuarters(records []Record) []Dated {
	days := map[Day]int{}
	for i := range records {
		days[records[i].Begin]++
	}
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

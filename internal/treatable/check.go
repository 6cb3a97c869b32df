package treatable

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"driftreach/internal/check"
)

// Options are the settings of Check.
type Options struct {
	FindingLimit int // as check.Log.Limit
}

// Check finishes the rows of one batch, from all its files together. It rejects rows that name
// neither a stand nor a parcel. A row whose permission, months or closed season cannot be read
// forbids all work, since what it forbids is unknown. Copies and invalid cost factors are left out.
// It returns the other rows sorted by content. The result depends on the set of rows, not on their
// order. It reuses the slice. n log n.
func Check(rows []Rule, o Options) ([]Rule, []check.Finding) {
	c := check.Checker[Rule]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}
	accept := func(r *Rule) bool {
		if rule, field, value, message := r.wrong(); message != "" {
			if rule.Severity == check.Error {
				c.Report(r, rule, field, value, message+"; the row was rejected")
				return false
			}
			c.Report(r, rule, field, value, message+"; nothing is planned where it holds until it is corrected")
			r.unclear = field
		}
		if r.Factor <= 0 {
			c.Report(r, ruleFactor, "cost_factor", check.Number(r.Factor), "a factor on costs is above 0; it was left out")
			r.Factor = 1
		}
		return true
	}
	return c.Unify(c.Accept(rows, accept)), c.Findings()
}

// wrong says why a row cannot be used; message is blank if it can.
func (r *Rule) wrong() (rule check.Rule, field, value, message string) {
	if r.StandID == "" && r.Parcel == "" {
		return ruleNoSubject, "stand_id", "", "the row names neither a stand nor a parcel"
	}
	if r.Permission != "" && !slices.Contains(Permissions(), r.Permission) {
		return rulePermission, "permission", string(r.Permission), "the word is none of given, asked, refused"
	}
	if !r.readMonths() {
		return ruleMonths, "months", r.Months, "the months cannot be read"
	}
	if r.ClosedFrom == "" && r.ClosedTo == "" {
		return rule, "", "", ""
	}
	var from, to bool
	r.opens, from = readMonthDay(r.ClosedFrom)
	r.shuts, to = readMonthDay(r.ClosedTo)
	r.closed = true
	switch {
	case !from:
		return ruleClosed, "closed_from", r.ClosedFrom, "the first day of the closed season cannot be read"
	case !to:
		return ruleClosed, "closed_to", r.ClosedTo, "the last day of the closed season cannot be read"
	}
	return rule, "", "", ""
}

// readMonths reads months such as 9-11, 11-2 or 9,10, or their names; false if they cannot be read.
func (r *Rule) readMonths() bool {
	for _, part := range strings.FieldsFunc(r.Months, func(c rune) bool { return c == ',' || c == ';' || c == ' ' }) {
		first, last, span := strings.Cut(part, "-")
		from, ok := readMonth(first)
		to := from
		if span && ok {
			to, ok = readMonth(last)
		}
		if !ok {
			return false
		}
		for m := from; ; m = m%12 + 1 {
			r.months[m] = true
			if m == to {
				break
			}
		}
	}
	return true
}

// readMonth reads a month by number or name.
func readMonth(text string) (int, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	if n, err := strconv.Atoi(text); err == nil {
		return n, n >= 1 && n <= 12
	}
	for m := time.January; m <= time.December; m++ {
		if name := strings.ToLower(m.String()); len(text) >= 3 && strings.HasPrefix(name, text) {
			return int(m), true
		}
	}
	return 0, false
}

// readMonthDay reads a day of any year, such as 03-01, or a whole date, whose year is ignored.
func readMonthDay(text string) (monthDay, bool) {
	text = strings.TrimSpace(text)
	if t, err := time.Parse(time.DateOnly, text); err == nil {
		return monthDay{int(t.Month()), t.Day()}, true
	}
	if t, err := time.Parse(time.DateOnly, "2024-"+text); err == nil { // a leap year: 02-29 is a day
		return monthDay{int(t.Month()), t.Day()}, true
	}
	return monthDay{}, false
}

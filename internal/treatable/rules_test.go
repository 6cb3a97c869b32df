package treatable

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// A row that names no stand on the map is told by the stand it names, or else by its parcel.
func TestUnknownRow(t *testing.T) {
	for _, c := range []struct {
		row          Rule
		field, value string
	}{
		{Rule{StandID: "2026Q1-0001", File: "t.csv", Row: 4}, "stand_id", "2026Q1-0001"},
		{Rule{StandID: "2026Q1-0001", Parcel: "p-7", File: "t.csv", Row: 4}, "stand_id", "2026Q1-0001"},
		{Rule{Parcel: "p-7", File: "t.csv", Row: 4}, "parcel", "p-7"},
	} {
		f := c.row.Unknown()
		if f.Rule.Code != "treatable-not-found" || f.Field != c.field || f.Value != c.value || f.File != "t.csv" || f.Record != "row 4" {
			t.Errorf("%+v: %+v", c.row, f)
		}
	}
}

// Two rows that differ in one column alone are both kept; they are copies only if every column is the
// same, whatever file and row they are in.
func TestRowsThatDiffer(t *testing.T) {
	one := Rule{
		File: "a.csv", Row: 1, StandID: "s", Parcel: "p", Permission: Given, Expires: day(11, 1), Access: "ford", Owner: "A. Holm", Gate: "chain", Method: "cut stump",
		Months: "9-11", ClosedFrom: "03-01", ClosedTo: "08-15", ClosedFor: "nesting", Factor: 2,
	}
	copied := one
	copied.File, copied.Row = "b.csv", 7
	if kept, findings := Check([]Rule{one, copied}, Options{}); len(kept) != 1 || len(findings) != 1 || findings[0].Rule.Code != "treatable-duplicate" {
		t.Errorf("a copy: %d rows, %v", len(kept), findings)
	}
	for column, change := range map[string]func(*Rule){
		"stand_id": func(r *Rule) { r.StandID = "t" }, "parcel": func(r *Rule) { r.Parcel = "q" }, "permission": func(r *Rule) { r.Permission = Asked },
		"expires": func(r *Rule) { r.Expires = day(11, 2) }, "access": func(r *Rule) { r.Access = "boat" }, "owner": func(r *Rule) { r.Owner = "B. Holm" },
		"gate": func(r *Rule) { r.Gate = "rope" }, "method": func(r *Rule) { r.Method = "digging" }, "months": func(r *Rule) { r.Months = "9-12" },
		"closed_from": func(r *Rule) { r.ClosedFrom = "03-02" }, "closed_to": func(r *Rule) { r.ClosedTo = "08-16" }, "closed_for": func(r *Rule) { r.ClosedFor = "fish" },
		"cost_factor": func(r *Rule) { r.Factor = 3 },
	} {
		other := one
		other.Row = 2
		change(&other)
		if kept, findings := Check([]Rule{one, other}, Options{}); len(kept) != 2 || len(findings) != 0 {
			t.Errorf("another %s: %d rows, %v", column, len(kept), findings)
		}
	}
}

// Months as people write them, and the months that they are; by hand.
func TestMonths(t *testing.T) {
	for text, want := range map[string][]time.Month{
		"": nil, "9-11": {9, 10, 11}, "11-2": {1, 2, 11, 12}, "9,10": {9, 10}, "9; 10": {9, 10}, "1": {1}, "12": {12}, "12-12": {12}, "Sep": {9}, "sept-october": {9, 10},
		"Dec-Jan": {1, 12}, "mar 5": {3, 5}, "1-12": {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12},
	} {
		r := Rule{StandID: "s", Months: text}
		if !r.readMonths() {
			t.Errorf("%q is not read", text)
		}
		var got []time.Month
		for m := time.January; m <= time.December; m++ {
			if r.months[m] {
				got = append(got, m)
			}
		}
		if d := cmp.Diff(want, got); d != "" || r.months[0] {
			t.Errorf("%q: %s", text, d)
		}
	}
	for _, text := range []string{"0", "13", "9-13", "0-9", "ma", "-", "9-", "spring", "-3", "janvier-mars"} {
		if r := (Rule{StandID: "s", Months: text}); r.readMonths() {
			t.Errorf("%q is read as %v", text, r.months)
		}
	}
}

// Days of any year, as people write them: a month and a day, or a whole date, whose year is ignored.
func TestDaysOfAnyYear(t *testing.T) {
	for text, want := range map[string]monthDay{"03-01": {3, 1}, " 12-31 ": {12, 31}, "2026-08-15": {8, 15}, "02-29": {2, 29}, "2024-02-29": {2, 29}} {
		if got, ok := readMonthDay(text); !ok || got != want {
			t.Errorf("%q is %v, %v, want %v", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "2-30", "02-30", "13-01", "3/1", "2026-02-29", "March 1", "0-0"} {
		if got, ok := readMonthDay(text); ok {
			t.Errorf("%q is %v", text, got)
		}
	}
}

// A row of which something cannot be read forbids all work, and the reason names the column and the
// parcel.
func TestUnreadRowForbids(t *testing.T) {
	for _, c := range []struct {
		row       Rule
		code, why string
	}{
		{Rule{StandID: "s", Permission: "maybe"}, "treatable-permission-unknown", "its permission cannot be read"},
		{Rule{Parcel: "p", Months: "spring"}, "treatable-months-unreadable", "its months cannot be read for parcel p"},
		{Rule{Parcel: "p", ClosedFrom: "spring", ClosedTo: "08-15"}, "treatable-season-unreadable", "its closed_from cannot be read for parcel p"},
		{Rule{StandID: "s", ClosedTo: "08-15"}, "treatable-season-unreadable", "its closed_from cannot be read"},
		{Rule{StandID: "s", ClosedFrom: "03-01", ClosedTo: "autumn"}, "treatable-season-unreadable", "its closed_to cannot be read"},
	} {
		c.row.Factor = math.NaN()
		kept, findings := Check([]Rule{c.row}, Options{})
		if len(kept) != 1 || len(findings) != 1 || findings[0].Rule.Code != c.code {
			t.Errorf("%+v: %d rows, %v", c.row, len(kept), findings)
			continue
		}
		if _, _, why := Window(kept, day(10, 1), day(12, 31)); why != c.why {
			t.Errorf("%+v: %q, want %q", c.row, why, c.why)
		}
	}
}

// The first and the last day of a closed season and of a permission, day by day, by hand: both ends of
// a season are closed, and the last day of a permission is open.
func TestDaysAtTheEnds(t *testing.T) {
	season := Rule{StandID: "s", ClosedFrom: "03-01", ClosedTo: "08-15", Factor: math.NaN()}
	winter := Rule{StandID: "s", ClosedFrom: "11-15", ClosedTo: "02-10", Factor: math.NaN()}
	given := Rule{StandID: "s", Permission: Given, Expires: day(8, 15), Factor: math.NaN()}
	for _, c := range []struct {
		name string
		rule Rule
		day  time.Time
		open bool
	}{
		{"the day before the season", season, day(2, 28), true}, {"its first", season, day(3, 1), false}, {"within, another day of the first month", season, day(3, 31), false},
		{"within", season, day(5, 20), false}, {"its last", season, day(8, 15), false}, {"the day after", season, day(8, 16), true}, {"a later month", season, day(9, 1), true},
		{"before the winter", winter, day(11, 14), true}, {"its first", winter, day(11, 15), false}, {"the turn of the year", winter, day(12, 31), false},
		{"after the turn", winter, day(1, 1), false}, {"its last", winter, day(2, 10), false}, {"after it", winter, day(2, 11), true}, {"summer", winter, day(6, 30), true},
		{"the last day of the permission", given, day(8, 15), true}, {"the day after", given, day(8, 16), false},
	} {
		kept, findings := Check([]Rule{c.rule}, Options{})
		from, to, why := Window(kept, c.day, c.day)
		if len(findings) != 0 || (why == "") != c.open || !from.Equal(c.day) || !to.Equal(c.day) {
			t.Errorf("%s, %s: %s to %s, %q, want open %v", c.name, c.day.Format("01-02"), from, to, why, c.open)
		}
	}
}

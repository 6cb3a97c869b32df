package survey

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestDayAndMonthTurned: a file in which days up to the twelfth have day and month the other way round,
// as a spreadsheet makes them, is told; by hand. 2026-05-07 is 5 July so, and 2026-12-08 is 12 August.
func TestDayAndMonthTurned(t *testing.T) {
	told := "3 of the 3 records of the file that are not of 2026Q3 would be with day and month the other way round, this one the first"
	for _, c := range []struct{ name, days, record, want string }{
		{"three of three", "2026-08-20 2026-05-07 2026-12-08 2026-01-09", "r1", told},
		{"three of five", "2026-05-07 2026-04-30 2026-03-01 2026-12-08 2026-01-09", "r0", strings.Replace(told, "3 of the 3", "3 of the 5", 1)},
		{"three of six", "2026-05-07 2026-04-30 2026-03-01 2026-02-01 2026-12-08 2026-01-09", "", ""},
		{"two", "2026-05-07 2026-12-08", "", ""},
		{"another year", "2025-05-07 2027-12-08 2026-01-09", "", ""},
		{"the first days of the quarter are as written", "2026-05-07 2026-12-08 2026-01-09 2026-07-02 2026-08-03 2026-09-04", "", ""},
		{"two of them", "2026-05-07 2026-12-08 2026-01-09 2026-07-02 2026-08-03", "r0", told},
		{"days that are in the quarter either way", "2026-05-07 2026-12-08 2026-01-09 2026-07-08 2026-08-08 2026-09-07 2026-07-07", "r0", told},
		{"days after the twelfth", "2026-05-07 2026-12-08 2026-01-09 2026-07-13 2026-08-14 2026-09-15 2026-07-16", "r0", told},
	} {
		var records []Record
		for i, day := range strings.Fields(c.days) {
			records = append(records, but(on(fmt.Sprint("r", i), day, float64(1000*i)), func(r *Record) { r.Row = i + 1 }))
		}
		slices.Reverse(records)
		var got []string
		for _, f := range Examine(records, DefaultOptions(q3)).Findings {
			if f.Rule.Code == "date-day-month" {
				got = append(got, f.Record, f.Message)
			}
		}
		if strings.Join(got, ": ") != strings.Trim(c.record+": "+c.want, ": ") {
			t.Errorf("%s: %q, want %s: %s", c.name, got, c.record, c.want)
		}
	}
	interval := on("a", "2026-05-07", 0)
	interval.End++
	same := []Record{interval, interval, interval}
	for i := range same {
		same[i].ID = fmt.Sprint("r", i)
	}
	for _, f := range Examine(same, DefaultOptions(q3)).Findings {
		if f.Rule.Code == "date-day-month" {
			t.Errorf("of intervals: %+v", f)
		}
	}
}

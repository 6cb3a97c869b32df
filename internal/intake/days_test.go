package intake

import (
	"strings"
	"testing"
	"time"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/testkit"
)

// TestDaysOfEveryRole: every column of days of every role other than points, by hand. A month covers its
// first to its last day: what begins takes the first, what ends or was done takes the last. Day 46204 of
// a spreadsheet is 2026-07-01 (see TestSerialDays of the cell), which is told once for a file. What is
// no day is left out and told.
func TestDaysOfEveryRole(t *testing.T) {
	const line = `"LINESTRING(10 20,10 20.01)"`
	for _, c := range []struct {
		name, head, row string // the day stands where the row has a star
		field, month    string
		read            func(format.Source, Options) (time.Time, []check.Finding, error)
	}{
		{name: "treatments", head: "date,stand_id,method", row: "*,a,cut", field: "date", month: "2026-07-31", read: func(s format.Source, o Options) (time.Time, []check.Finding, error) {
			f, told, err := ReadTreatments(s, o)
			return f.Actions[0].Date, told, err
		}},
		{name: "corrections", head: "date,correction,occurrenceID", row: "*,look-alike,a", field: "date", month: "2026-07-31", read: func(s format.Source, o Options) (time.Time, []check.Finding, error) {
			f, told, err := ReadCorrections(s, o)
			return f.Rows[0].Date, told, err
		}},
		{name: "treatable", head: "stand_id,permission,permission_expires", row: "a,given,*", field: "permission_expires", month: "2026-07-31", read: func(s format.Source, o Options) (time.Time, []check.Finding, error) {
			f, told, err := ReadTreatable(s, o)
			return f.Rules[0].Expires, told, err
		}},
		{name: "works begin", head: "work_id,kind,start_date,decimalLongitude,decimalLatitude", row: "w,mowing,*,10,20", field: "start_date", month: "2026-07-01", read: func(s format.Source, o Options) (time.Time, []check.Finding, error) {
			f, told, err := ReadWorks(s, o)
			return f.Works[0].Start, told, err
		}},
		{name: "works end", head: "work_id,kind,end_date,decimalLongitude,decimalLatitude", row: "w,mowing,*,10,20", field: "end_date", month: "2026-07-31", read: func(s format.Source, o Options) (time.Time, []check.Finding, error) {
			f, told, err := ReadWorks(s, o)
			return f.Works[0].End, told, err
		}},
		{name: "surveyed, first day", head: "eventDate,WKT", row: "*," + line, field: "eventDate", month: "2026-07-01", read: firstOfGround},
		{name: "surveyed, last day", head: "eventDate,WKT", row: "*," + line, field: "eventDate", month: "2026-07-31", read: lastOfGround},
		{name: "surveyed begins, first day", head: "start_date,WKT", row: "*," + line, field: "start_date", month: "2026-07-01", read: firstOfGround},
		{name: "surveyed begins, last day", head: "start_date,WKT", row: "*," + line, field: "start_date", month: "2026-07-31", read: lastOfGround},
		{name: "surveyed ends", head: "end_date,WKT", row: "*," + line, field: "end_date", month: "2026-07-31", read: lastOfGround},
	} {
		for _, d := range []struct{ text, day, code, says string }{
			{"2026-07-02", "2026-07-02", "", ""}, {"2026-07", c.month, "", ""}, {"", "", "", ""},
			{"46204", "2026-07-01", "date-serial", "1 date is the day number of a spreadsheet; 46204 was read as 2026-07-01"},
			{"soon", "", ruleDate.Code, "the date cannot be read; it was left out"},
		} {
			text := c.head + "\n" + strings.Replace(c.row, "*", d.text, 1) + "\n"
			got, told, err := c.read(testkit.Source("f.csv", strings.NewReader(text)), testOptions())
			if err != nil || dayText(got) != d.day {
				t.Errorf("%s, %q: %s, want %s; %v", c.name, d.text, dayText(got), d.day, err)
			}
			var of []check.Finding // about a day that was written
			for _, f := range told {
				if f.Rule.Code == ruleDate.Code || f.Rule.Code == "date-serial" {
					of = append(of, f)
				}
			}
			switch {
			case d.code == "" && len(of) == 0:
			case len(of) != 1 || of[0].Rule.Code != d.code || of[0].Message != d.says || of[0].Field != c.field || of[0].Value != d.text:
				t.Errorf("%s, %q: told %+v", c.name, d.text, of)
			}
		}
	}
}

func firstOfGround(s format.Source, o Options) (time.Time, []check.Finding, error) {
	f, told, err := ReadSurveyed(s, o)
	return f.Ground[0].Begin, told, err
}

func lastOfGround(s format.Source, o Options) (time.Time, []check.Finding, error) {
	f, told, err := ReadSurveyed(s, o)
	return f.Ground[0].End, told, err
}

// TestSurveyedDaysTogether: a column of the first day goes before one of the day, and one of the last
// before both; by hand.
func TestSurveyedDaysTogether(t *testing.T) {
	for row, want := range map[string]string{
		"2026-07-05,,": "2026-07-05 2026-07-05", "2026-07-05,2026-07-02,": "2026-07-02 2026-07-02", "2026-07-05,,2026-07-09": "2026-07-05 2026-07-09",
		"2026-07-05,2026-07-02,2026-07-09": "2026-07-02 2026-07-09", ",2026-07-02,2026-07-09": "2026-07-02 2026-07-09", ",,2026-07-09": " 2026-07-09", ",,": " ",
	} {
		f, told, err := ReadSurveyed(testkit.Source("s.csv", strings.NewReader("eventDate,start_date,end_date,WKT\n"+row+`,"LINESTRING(10 20,10 20.01)"`+"\n")), testOptions())
		if err != nil || len(f.Ground) != 1 {
			t.Fatalf("%s: %v", row, err)
		}
		if got := dayText(f.Ground[0].Begin) + " " + dayText(f.Ground[0].End); got != want || (codes(told) == "row 1 date-missing") != (row == ",,") {
			t.Errorf("%s: %q, want %q; %s", row, got, want, codes(told))
		}
	}
}

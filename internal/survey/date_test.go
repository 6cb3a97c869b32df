package survey

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestParseDate: the examples of Darwin Core's eventDate
// (https://dwc.tdwg.org/terms/#dwc:eventDate) and forms beside them; by hand.
func TestParseDate(t *testing.T) {
	for _, c := range []struct{ text, begin, end string }{
		{"1963-03-08T14:07-06:00", "1963-03-08", "1963-03-08"},
		{"2009-02-20T08:40Z", "2009-02-20", "2009-02-20"},
		{"2018-08-29T15:19", "2018-08-29", "2018-08-29"},
		{"1809-02-12", "1809-02-12", "1809-02-12"},
		{"1906-06", "1906-06-01", "1906-06-30"},
		{"1971", "1971-01-01", "1971-12-31"},
		{"2007-03-01T13:00:00Z/2008-05-11T15:30:00Z", "2007-03-01", "2008-05-11"},
		{"1900/1909", "1900-01-01", "1909-12-31"},
		{"2007-11-13/15", "2007-11-13", "2007-11-15"},
		{"2026-07-30/08-02", "2026-07-30", "2026-08-02"},
		{"2026-07/09", "2026-07-01", "2026-09-30"},
		{"2026-07/2026-08", "2026-07-01", "2026-08-31"},
		{" 2026-07-15 ", "2026-07-15", "2026-07-15"},
		{"2026/07/15", "2026-07-15", "2026-07-15"},
		{"2026/07/15 10:20:30+00", "2026-07-15", "2026-07-15"},
		{"2026/07/15T10:20:30Z", "2026-07-15", "2026-07-15"},
		{"2026-07-13/2026/07/15", "2026-07-13", "2026-07-15"},
		{"2026-07-15 10:20:30.123", "2026-07-15", "2026-07-15"},
		{"2026-07-15T23:30:00-05:00", "2026-07-15", "2026-07-15"},
		{"2026-07-15t23:30:00.5z", "2026-07-15", "2026-07-15"},
		{"20260715", "2026-07-15", "2026-07-15"},
		{"20260715T102030Z", "2026-07-15", "2026-07-15"},
		{"2026-196", "2026-07-15", "2026-07-15"},
		{"2024-366", "2024-12-31", "2024-12-31"},
		{"2024-02-29", "2024-02-29", "2024-02-29"},
	} {
		begin, end, err := ParseDate(c.text)
		if err != nil || begin.Format(time.DateOnly) != c.begin || end.Format(time.DateOnly) != c.end || begin.Location() != time.UTC {
			t.Errorf("%q reads as %v to %v (%v), want %s to %s", c.text, begin, end, err, c.begin, c.end)
		}
	}
}

func TestParseDateRefuses(t *testing.T) {
	for _, text := range []string{"", "/", "soon", "15/07/2026", "7/15/2026", "15.07.26", "7-15-2026", "32.07.2026", "15.13.2026", "15 Juli 26", "Jul 2026", "2026 7 15 1", "13:00 Jul 2026", "July 13, 2026 13:22 PM", "July 13, 2026 at noon", "2026-13-01", "2026-00-10", "2026-02-29", "2026-06-31", "2026-07-00",
		"2026-366", "2026-000", "46218", "26-07-15", "2026-07-15T25:00", "2026-07-15T10:99", "2026-07-15T", "2026-07-15T10:20:30+99:00", "2026-07-15Tnoon",
		"2026-07-15/2026-07-01", "2026-07-15/", "/2026-07-15", "2026-07/..", "2026-07T10:00", "0000-01-01", "2026-07-15/x", "２０２６-07-15", "2026-07-15;2026-07-16"} {
		if begin, end, err := ParseDate(text); err == nil {
			t.Errorf("%q reads as %v to %v", text, begin, end)
		}
	}
}

// TestClocks: what a time of day and its zone may be written as: hours to 24, minutes and seconds to 60
// (a leap second), parts of the last after a point or comma, a zone of hours and minutes to 14, with
// colons or without (ISO 8601).
func TestClocks(t *testing.T) {
	for text, want := range map[string]bool{
		"10": true, "10:20": true, "1020": true, "10:20:30": true, "10:20:60": true, "24:00": true, "10:20:30.5": true, "10:20:30,125": true, "10:20Z": true, "10:20z": true,
		"10:20+01": true, "10:20-0130": true, "10:20+01:30": true, "10:20+14:00": true, "10:20 +01:00": true,
		"1": false, "102": false, "10:20:30:40": false, "25:00": false, "10:61": false, "10:20:61": false, "10:20:30.": false, "10:20:30.x": false, "10:20+": false, "10:20+1": false,
		"10:20+15:00": false, "10:20+01:61": false, "10:20+01:00:00": false, "10:20+x": false, "+01:00": false, "": false,
	} {
		if got := isClock(text); got != want {
			t.Errorf("%q is a time of day: %v", text, got)
		}
	}
}

// TestParseDateDays: every day that Go formats reads back as itself.
func TestParseDateDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := date(rapid.IntRange(1000, 9999).Draw(t, "year"), 1, rapid.IntRange(1, 365).Draw(t, "day"))
		layout := rapid.SampledFrom([]string{time.DateOnly, "20060102", "2006-002", "2006/01/02", time.RFC3339, time.RFC3339Nano}).Draw(t, "layout")
		begin, end, err := ParseDate(day.Format(layout))
		if err != nil || !begin.Equal(day) || !end.Equal(day) {
			t.Fatalf("%s reads as %v to %v: %v", day.Format(layout), begin, end, err)
		}
	})
}

// TestWrittenDates: dates that can be read in one way only, and others with their order given; by
// hand.
func TestWrittenDates(t *testing.T) {
	for _, c := range []struct {
		text  string
		order DateOrder
		want  string
	}{
		{"13 Jul 2026", NoOrder, "2026-07-13"}, {"Jul 13, 2026", NoOrder, "2026-07-13"}, {"July 13, 2026 2:22 PM", NoOrder, "2026-07-13"},
		{"13-Jul-2026", NoOrder, "2026-07-13"}, {"2026-Jul-13", NoOrder, "2026-07-13"}, {"Mon Jul 13 2026", NoOrder, "2026-07-13"},
		{"Sept. 3rd, 2026", NoOrder, "2026-09-03"}, {"13.07.2026", NoOrder, "2026-07-13"}, {"3.7.2026 14:22", NoOrder, "2026-07-03"}, {"2026-7-3", NoOrder, "2026-07-03"},
		{"2026/7/3 9:05", NoOrder, "2026-07-03"}, {"2026.07.13", NoOrder, "2026-07-13"}, {"2026-07-13 14:22 UTC", NoOrder, "2026-07-13"},
		{"2026-07-13 02:22:05 PM", NoOrder, "2026-07-13"}, {"2026-7-13T14:22", NoOrder, "2026-07-13"},
		{"7/13/2026", MonthFirst, "2026-07-13"}, {"7/3/26 9:05 a.m.", MonthFirst, "2026-07-03"}, {"07-03-2026", MonthFirst, "2026-07-03"},
		{"7/3/2026", DayFirst, "2026-03-07"}, {"13/07/2026 14:22", DayFirst, "2026-07-13"}, {"13.7.26", DayFirst, "2026-07-13"}, {"2026-07-13", MonthFirst, "2026-07-13"},
		{"13/7/2026", MonthFirst, ""}, {"7/13/2026", DayFirst, ""}, {"13 Jul 26", NoOrder, ""},
	} {
		begin, end, err := ParseDateIn(c.text, c.order)
		got := begin.Format(time.DateOnly)
		if (err != nil) != (c.want == "") || err == nil && (got != c.want || !begin.Equal(end)) {
			t.Errorf("%q, order %d: %s, %v, want %s", c.text, c.order, got, err, c.want)
		}
	}
}

func FuzzParseDate(f *testing.F) {
	f.Add("2026-07-15/16")
	f.Add("2026-07-15T10:20:30.5+01:00")
	f.Fuzz(func(t *testing.T, text string) {
		begin, end, err := ParseDate(text)
		if err == nil && (end.Before(begin) || begin.IsZero() || begin.Hour() != 0) {
			t.Errorf("%q reads as %v to %v", text, begin, end)
		}
		for _, order := range []DateOrder{DayFirst, MonthFirst} {
			if b, e, told := ParseDateIn(text, order); err == nil && told != nil || told == nil && e.Before(b) {
				t.Errorf("%q in order %d reads as %v to %v, %v", text, order, b, e, told)
			}
		}
	})
}

func TestQuarter(t *testing.T) {
	for text, want := range map[string]Quarter{"2026Q3": {2026, 3}, "2026q1": {2026, 1}, "2026-Q4": {2026, 4}} {
		if q, err := ParseQuarter(text); err != nil || q != want {
			t.Errorf("%q reads as %v, %v", text, q, err)
		}
	}
	for _, text := range []string{"", "2026", "2026Q0", "2026Q5", "26Q3", "2026Q33", "Q32026", "2026-3", "0999Q1", "2026 Q3", "-026Q1"} {
		if q, err := ParseQuarter(text); err == nil {
			t.Errorf("%q reads as %v", text, q)
		}
	}
	for q, days := range map[Quarter][2]string{{2026, 1}: {"2026-01-01", "2026-03-31"}, {2024, 1}: {"2024-01-01", "2024-03-31"}, {2026, 2}: {"2026-04-01", "2026-06-30"},
		{2026, 3}: {"2026-07-01", "2026-09-30"}, {2026, 4}: {"2026-10-01", "2026-12-31"}} {
		if got := fmt.Sprint(q.Begin().Format(time.DateOnly), " ", q.End().Format(time.DateOnly)); got != days[0]+" "+days[1] {
			t.Errorf("%v is %s", q, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		q := Quarter{rapid.Int16Range(1001, 9998).Draw(t, "year"), rapid.Int8Range(1, 4).Draw(t, "number")}
		back, err := ParseQuarter(q.String())
		if err != nil || back != q || q.Next().Previous() != q || q.Previous().Next() != q || !q.End().AddDate(0, 0, 1).Equal(q.Next().Begin()) || q.IsZero() {
			t.Fatalf("%v, %v, %v", q, back, err)
		}
	})
}

// A quarter is four digits, Q and one digit, as fmt writes it, for any year.
func TestQuarterText(t *testing.T) {
	for _, q := range []Quarter{{}, {7, 1}, {1999, 4}, {2026, 3}, {9999, 2}, {10000, 1}, {-5, 2}} {
		want := fmt.Sprintf("%04dQ%d", q.Year, q.Number)
		if q.Year < 0 {
			want = fmt.Sprintf("%dQ%d", q.Year, q.Number)
		}
		if got := q.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

package survey

import (
	"fmt"
	"strings"
	"time"
)

// ParseDate returns the first and the last day that a Darwin Core eventDate covers, as UTC midnights.
// It reads the forms of ISO 8601 that Darwin Core names (https://dwc.tdwg.org/terms/#dwc:eventDate): a
// day, a date-time, a month, a year, and an interval "a/b" whose end may leave out what it shares with
// its beginning ("2026-07-13/15"). It also reads basic days (20260713), day-of-year (2026-194), the
// "2026/07/13" that GDAL writes, and the unambiguous forms of people and spreadsheets: "13 Jul 2026",
// "July 13, 2026", 13.07.2026, 2026-7-3, with a 12- or 24-hour clock. The day is the one written, by
// the clock of the person in the field: a zone offset is checked for form but does not shift the day.
// 7/3/2026 is refused, since it is not known which number is the month; ParseDateIn takes that as an
// argument.
func ParseDate(text string) (begin, end time.Time, err error) { return ParseDateIn(text, NoOrder) }

// ParseDateIn is ParseDate for texts whose order of day and month is known. Years of two digits are of
// this century.
func ParseDateIn(text string, order DateOrder) (begin, end time.Time, err error) {
	s := strings.TrimSpace(text)
	if b, e, ok := parseMoment(s); ok {
		return b, e, nil
	}
	first, last, found := strings.Cut(s, "/")
	if found {
		b, _, ok1 := parseMoment(first)
		_, e, ok2 := parseMoment(complete(first, last))
		if ok1 && ok2 && !e.Before(b) {
			return b, e, nil
		}
	}
	if day, ok := parseWritten(s, order); ok {
		return day, day, nil
	}
	return time.Time{}, time.Time{}, fmt.Errorf("date %q is not an ISO 8601 date or interval, nor a day written in one way only", text)
}

// complete adds to an interval's end the leading parts that it shares with the beginning.
func complete(first, last string) string {
	day, _, _ := cutClock(first)
	switch {
	case len(last) == 2 && len(day) == 10:
		return day[:8] + last
	case len(last) == 5 && last[2] == '-' && len(day) == 10:
		return day[:5] + last
	case len(last) == 2 && len(day) == 7:
		return day[:5] + last
	}
	return last
}

// parseMoment reads a day, month or year, with or without a time of day.
func parseMoment(s string) (begin, end time.Time, ok bool) {
	day, clock, timed := cutClock(s)
	begin, end, ok = parseDay(day)
	if timed && (!ok || !begin.Equal(end) || !isClock(clock)) {
		return begin, end, false
	}
	return begin, end, ok
}

func cutClock(s string) (day, clock string, timed bool) {
	if i := strings.IndexAny(s, "Tt "); i >= 0 {
		return s[:i], s[i+1:], true
	}
	return s, "", false
}

// parseDay reads 2026-07-13, 2026/07/13, 20260713, 2026-194, 2026-07 or 2026.
func parseDay(s string) (begin, end time.Time, ok bool) {
	if len(s) == 10 && s[4] == '/' && s[7] == '/' {
		s = s[:4] + "-" + s[5:7] + "-" + s[8:]
	}
	if len(s) < 4 {
		return
	}
	year, ok := number(s[:4])
	if !ok || year < 1000 {
		return begin, end, false
	}
	switch {
	case len(s) == 4:
		return date(year, 1, 1), date(year, 12, 31), true
	case len(s) == 7 && s[4] == '-':
		month, ok := number(s[5:])
		return date(year, month, 1), date(year, month+1, 0), ok && month >= 1 && month <= 12
	case len(s) == 8 && s[4] == '-':
		n, ok := number(s[5:])
		begin = date(year, 1, n)
		return begin, begin, ok && n >= 1 && begin.Year() == year
	case len(s) == 8:
		return exactDay(year, s[4:6], s[6:])
	case len(s) == 10 && s[4] == '-' && s[7] == '-':
		return exactDay(year, s[5:7], s[8:])
	}
	return begin, end, false
}

func exactDay(year int, month, day string) (begin, end time.Time, ok bool) {
	m, ok1 := number(month)
	d, ok2 := number(day)
	begin = date(year, m, d)
	return begin, begin, ok1 && ok2 && m >= 1 && m <= 12 && d >= 1 && begin.Day() == d
}

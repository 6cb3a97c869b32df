package survey

import (
	"strings"
	"time"
)

// DateOrder is the order of day and month in dates such as 7/3/2026.
type DateOrder uint8

// The orders. With NoOrder such dates are not read.
const (
	NoOrder DateOrder = iota
	DayFirst
	MonthFirst
)

// parseWritten reads a day as people and spreadsheets write it, with or without a time of day.
func parseWritten(s string, order DateOrder) (day time.Time, ok bool) {
	words := strings.Fields(strings.ReplaceAll(s, ",", " "))
	if len(words) > 0 && isName(weekdays[:], words[0]) > 0 {
		words = words[1:]
	}
	if len(words) == 0 || len(s) > 64 { // longer than any date
		return day, false
	}
	parts, rest := words[:min(3, len(words))], words[min(3, len(words)):]
	mark := strings.IndexAny(strings.TrimSuffix(words[0], "."), "/.-") // the full stop of "Sept." is not a separator
	if mark > 0 {
		first, clock, timed := strings.Cut(words[0], "T")
		parts, rest = strings.Split(first, words[0][mark:mark+1]), words[1:]
		if timed {
			rest = append([]string{clock}, rest...)
		}
	}
	if len(parts) != 3 || !isWrittenClock(rest) {
		return day, false
	}
	if mark > 0 && words[0][mark] == '.' && order == NoOrder && len(parts[2]) == 4 {
		order = DayFirst // common practice wherever dates are written with full stops
	}
	return dayOf([3]string(parts), order)
}

// dayOf makes a date of year, month and day.
func dayOf(parts [3]string, order DateOrder) (day time.Time, ok bool) {
	year, month, at := parts[2], parts[1], parts[0]
	monthName := 0
	for i, part := range parts {
		if n := isName(months[:], part); n > 0 {
			monthName, month = n, part
			at = parts[max(0, 1-i)] // the day is the other one of the first two parts
		}
	}
	switch {
	case isYear(parts[0]):
		year, at = parts[0], parts[2]
		if monthName == 0 {
			month = parts[1]
		}
	case monthName == 0 && order == NoOrder, len(year) == 2 && order == NoOrder:
		return day, false
	case monthName == 0 && order == MonthFirst:
		month, at = parts[0], parts[1]
	}
	if len(year) == 2 {
		year = "20" + year
	}
	y, ok1 := number(year)
	m, ok2 := number(month)
	if monthName > 0 {
		m, ok2 = monthName, true
	}
	d, ok3 := number(strings.TrimRight(at, "stndrh")) // 1st, 2nd, 3rd, 4th
	day = date(y, m, d)
	return day, ok1 && ok2 && ok3 && len(year) == 4 && y >= 1000 && m >= 1 && m <= 12 && d >= 1 && day.Day() == d
}

func isYear(word string) bool {
	_, ok := number(word)
	return ok && len(word) == 4
}

// isWrittenClock says whether words are a time of day, on a 12- or 24-hour clock.
func isWrittenClock(words []string) bool {
	if len(words) == 0 {
		return true
	}
	text := strings.ToUpper(strings.Join(words, ""))
	for _, zone := range []string{"UTC", "GMT"} {
		text = strings.TrimSuffix(text, zone)
	}
	half := strings.TrimSuffix(strings.TrimSuffix(strings.ReplaceAll(text, ".M.", "M"), "AM"), "PM")
	if k := strings.IndexByte(half, ':'); k == 1 {
		half = "0" + half
	}
	return isClock(half) && (len(half) == len(text) || half <= "13")
}

var months = [...]string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}

var weekdays = [...]string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}

// isName returns the number, from 1, of the name that equals word or begins with it; 0 for none. word
// needs at least three letters.
func isName(names []string, word string) int {
	word = strings.ToLower(strings.TrimSuffix(word, "."))
	if len(word) < 3 {
		return 0
	}
	for i, name := range names {
		if strings.HasPrefix(name, word) {
			return i + 1
		}
	}
	return 0
}

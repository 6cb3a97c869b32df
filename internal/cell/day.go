package cell

import (
	"strings"
	"time"

	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// serialDay reads the day number of a spreadsheet, with or without a fraction of the day.
func serialDay(text string) (day time.Time, ok bool) {
	whole, part, found := strings.Cut(strings.TrimSpace(text), ".")
	notDigit := func(r rune) bool { return r < '0' || r > '9' }
	if len(whole) != 5 || strings.ContainsFunc(whole, notDigit) || strings.ContainsFunc(part, notDigit) || found && part == "" {
		return day, false
	}
	n := 0
	for _, r := range whole {
		n = 10*n + int(r-'0')
	}
	return format.SerialEpoch.AddDate(0, 0, n), n >= format.FirstSerial && n <= format.LastSerial
}

// ParseDays reads a date in every form that is understood; serial says that it is a day
// number.
func ParseDays(text string, order survey.DateOrder) (begin, end time.Time, serial bool, err error) {
	if day, ok := serialDay(text); ok {
		return day, day, true, nil
	}
	begin, end, err = survey.ParseDateIn(text, order)
	return begin, end, false, err
}

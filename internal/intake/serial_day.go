package intake

import (
	"fmt"
	"strings"
	"time"

	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// serialDay reads the day number of a spreadsheet, with or without a part of the day
// behind it.
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

// parseDays reads a date in any way that is understood; serial says that it is a day
// number.
func parseDays(text string, order survey.DateOrder) (begin, end time.Time, serial bool, err error) {
	if day, ok := serialDay(text); ok {
		return day, day, true, nil
	}
	begin, end, err = survey.ParseDateIn(text, order)
	return begin, end, false, err
}

// countSerial counts a date that was a day number.
func (r *featureReader) countSerial(field, text string, day string) {
	if r.serials.count++; r.serials.count == 1 || text < r.serials.text { // whatever the order of records
		r.serials.field, r.serials.text, r.serials.day = field, text, day
	}
}

// serials are the day numbers among the dates of a file.
type serials struct {
	count            int
	field, text, day string // of the smallest
}

// reportSerials tells once that day numbers were read as dates.
func (r *featureReader) reportSerials() {
	if s := r.serials; s.count > 0 {
		r.ReportFile(ruleSerial, s.field, s.text, fmt.Sprintf("%d dates are the day numbers of a spreadsheet and were read so: %s, for one, as %s", s.count, s.text, s.day))
	}
}

package intake

import (
	"fmt"
	"math"
	"strings"

	"driftreach/internal/survey"
)

// utcDays counts the records whose time is in UTC and whose day is in one quarter as written and in
// another by the sun.
type utcDays struct {
	records           int
	text, day, sunDay string // of the smallest text, as the example
}

// utcMinutes returns the minutes since midnight of a date with a time in UTC, as GPX has them; -1 for any
// other text.
func utcMinutes(text string) int {
	text = strings.ToUpper(strings.TrimSpace(text))
	i := strings.IndexAny(text, "T ")
	if i < 0 {
		return -1
	}
	clock := text[i+1:]
	for _, zone := range []string{"Z", "+00:00", "+0000", "+00"} {
		if rest, utc := strings.CutSuffix(clock, zone); utc {
			return minutesOf(strings.ReplaceAll(rest, ":", ""))
		}
	}
	return -1
}

// minutesOf returns the minutes since midnight of a time of day that begins with hours and minutes, without
// colons; -1 for any other text.
func minutesOf(clock string) int {
	if len(clock) < 4 {
		return -1
	}
	n := 0
	for _, c := range clock[:4] {
		if c < '0' || c > '9' {
			return -1
		}
		n = 10*n + int(c-'0')
	}
	return n/100*60 + n%100
}

// sunDay returns the day by the sun, which crosses 15 degrees of longitude an hour, at minutes after midnight
// UTC.
func sunDay(d survey.Day, minutes int, longitude float64) survey.Day {
	return d + survey.Day(math.Floor((float64(minutes)+4*longitude)/(24*60)))
}

// count counts a record whose date has a time in UTC, if its day by the sun is in another quarter.
func (u *utcDays) count(r *survey.Record, text []byte, minutes int) {
	if r.Begin.IsZero() || math.Abs(r.Position[0]) > 180 {
		return
	}
	day := sunDay(r.Begin, minutes, r.Position[0])
	if day == r.Begin || survey.QuarterOf(day) == survey.QuarterOf(r.Begin) {
		return
	}
	if u.records++; u.records == 1 || string(text) < u.text { // the smallest, so that the order of records does not matter
		u.text, u.day, u.sunDay = string(text), r.Begin.String(), day.String()
	}
}

// told returns the message about them; blank for none.
func (u *utcDays) told() string {
	if u.records == 0 {
		return ""
	}
	records := fmt.Sprintf("%d records have times in UTC that put them", u.records)
	if u.records == 1 {
		records = "1 record has a time in UTC that puts it"
	}
	return fmt.Sprintf("%s in another quarter than the day on the ground: %s is %s by the sun at that place; it was read as %s", records, u.text, u.sunDay, u.day)
}

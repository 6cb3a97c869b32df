package survey

import "time"

// Day is a calendar day, as the number of days after 1 January of the year 1. Zero means no day, as in
// time.Time; ParseDate reads no year before 1000.
type Day int32

const (
	secondsPerDay = 24 * 60 * 60
	// unixDay is 1 January 1970: 1969 years, 477 of them leap years.
	unixDay = 1969*365 + 477
)

// DayOf returns the day of a UTC midnight.
func DayOf(t time.Time) Day { return Day(t.Unix()/secondsPerDay + unixDay) }

// Time returns the day's UTC midnight, or the zero time for no day.
func (d Day) Time() time.Time {
	return time.Unix((int64(d)-unixDay)*secondsPerDay, 0).UTC()
}

// IsZero says whether d means no day.
func (d Day) IsZero() bool { return d == 0 }

// String formats the day as 2026-07-13.
func (d Day) String() string { return d.Time().Format(time.DateOnly) }

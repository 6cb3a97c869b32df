package survey

import "time"

// Day is a day of the calendar, by how many days it comes after 1 January of the
// year 1. That day itself stands for none, as it does for time.Time; ParseDate
// reads no year before 1000.
type Day int32

const (
	secondsPerDay = 24 * 60 * 60
	// unixDay is 1 January 1970: 1969 years, 477 of them leap years.
	unixDay = 1969*365 + 477
)

// DayOf returns the day of a UTC midnight.
func DayOf(t time.Time) Day { return Day(t.Unix()/secondsPerDay + unixDay) }

// Time returns the day's UTC midnight, the zero time for none.
func (d Day) Time() time.Time {
	return time.Unix((int64(d)-unixDay)*secondsPerDay, 0).UTC()
}

// IsZero says whether d is no day.
func (d Day) IsZero() bool { return d == 0 }

// String returns the day as in 2026-07-13.
func (d Day) String() string { return d.Time().Format(time.DateOnly) }

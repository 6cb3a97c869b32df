package survey

import (
	"testing"
	"time"
)

// TestDay: every day of the years that dates are read in goes there and back, one
// after the other; the calendar is that of package time.
func TestDay(t *testing.T) {
	last := DayOf(time.Date(999, 12, 31, 0, 0, 0, 0, time.UTC))
	for at := time.Date(1000, 1, 1, 0, 0, 0, 0, time.UTC); at.Year() < 10000; at = at.AddDate(0, 0, 1) {
		d := DayOf(at)
		if d != last+1 || d.Time() != at || d.IsZero() {
			t.Fatalf("%v is day %d, %v, after %d", at, d, d.Time(), last)
		}
		last = d
	}
	if got := DayOf(time.Date(2026, 7, 13, 0, 0, 0, 0, time.UTC)).String(); got != "2026-07-13" {
		t.Errorf("printed as %s", got)
	}
}

// TestNoDay: the zero time is no day, and no day the zero time.
func TestNoDay(t *testing.T) {
	if d := DayOf(time.Time{}); !d.IsZero() || d.Time() != (time.Time{}) {
		t.Errorf("%d, %v", d, d.Time())
	}
}

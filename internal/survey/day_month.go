package survey

import (
	"fmt"
	"time"

	"driftreach/internal/check"
)

// outside counts the records of a file that are not of the quarter, and those among them that would be
// with day and month the other way round.
type outside struct {
	records int
	turned  firstOf
	day     Day // of the first turned one
}

// turned returns the day with day and month the other way round; false if there is no such day.
func turned(d Day) (Day, bool) {
	t := d.Time()
	if t.Day() > 12 {
		return 0, false
	}
	return DayOf(time.Date(t.Year(), time.Month(t.Day()), int(t.Month()), 0, 0, 0, 0, time.UTC)), true
}

// countOutside counts a record that is not of the quarter.
func (c *checker) countOutside(r *Record) {
	o := c.outside[r.File]
	o.records++
	if other, ok := turned(r.Begin); ok && r.Begin == r.End && QuarterOf(other) == c.options.Quarter {
		if o.turned.meet(r) {
			o.day = r.Begin
		}
	}
	c.outside[r.File] = o
}

// tellTurned reports, once a file, that most records outside the quarter would lie in it with day and
// month the other way round. A spreadsheet turns them so in days up to the twelfth, and leaves the
// others as texts. days is the number of records of each day: where more of those in the quarter would
// lie outside it, their days are as they were written, and nothing is reported.
func (c *checker) tellTurned(days map[Day]int) {
	right := 0
	for day, n := range days {
		if day.IsZero() || QuarterOf(day) != c.options.Quarter {
			continue
		}
		if other, ok := turned(day); ok && QuarterOf(other) != c.options.Quarter {
			right += n
		}
	}
	for file, o := range c.outside { // the log sorts them
		n := o.turned.met
		if n < fewestTurned || 2*n <= o.records || n <= right {
			continue
		}
		c.Add(check.Finding{
			Rule: ruleTurned, File: file, Record: o.turned.name, Field: "eventDate", Value: o.day.String(),
			Message: fmt.Sprintf("%d of the %d records of the file that are not of %s would be with day and month the other way round, this one the first", n, o.records, c.options.Quarter),
		})
	}
}

// fewestTurned is how many records are a pattern and no slip. Our choice.
const fewestTurned = 3

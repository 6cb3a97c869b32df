package demo

import (
	"slices"
	"time"
)

// season is one quarter of the programme.
type season struct {
	name  string
	first time.Time // first day of the quarter
}

func day(year int, month time.Month, d int) time.Time {
	return time.Date(year, month, d, 0, 0, 0, 0, time.UTC)
}

// calendar lists the quarters, oldest first: southern spring to late winter,
// twice.
var calendar = [quarters]season{
	{"2024Q4", day(2024, time.October, 1)},
	{"2025Q1", day(2025, time.January, 1)},
	{"2025Q2", day(2025, time.April, 1)},
	{"2025Q3", day(2025, time.July, 1)},
	{"2025Q4", day(2025, time.October, 1)},
	{"2026Q1", day(2026, time.January, 1)},
	{"2026Q2", day(2026, time.April, 1)},
	{"2026Q3", day(2026, time.July, 1)},
}

// quarters is how many there are.
const quarters = 8

// missed lists the walks that no crew went in a quarter: a crew too few on the
// upper Iskarrow, high water in two creeks, a road closed by a slip, floods that
// shut the Vessick valley for half a year, and leave taken at Tullimar.
var missed = map[int][]string{
	1: {upperIskarrow},
	2: {"FEN", "POM"},
	4: {closedRoad},
	5: {"VES", "CLO"},
	6: {"VES", "CLO"},
	7: {"TUL", "RUD"},
}

// visited says whether a crew went a walk in a quarter.
func visited(walk string, quarter int) bool { return !slices.Contains(missed[quarter], walk) }

// surveyDay returns the day a crew walked a course: within weeks 2 to 10 of
// the quarter, the courses in turn.
func surveyDay(turn, of, quarter int) time.Time {
	return calendar[quarter].first.AddDate(0, 0, 10+turn*56/max(1, of))
}

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

// calendar lists the quarters, oldest first: two years, each from southern spring to late winter.
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

// quarters is their number.
const quarters = 8

// missed lists the walks that were not surveyed in a quarter. The reasons: too few crews for the upper
// Iskarrow, high water in two creeks, a road closed by a landslip, floods that shut the Vessick valley
// for half a year, and leave taken at Tullimar.
var missed = map[int][]string{
	1: {upperIskarrow},
	2: {"FEN", "POM"},
	4: {closedRoad},
	5: {"VES", "CLO"},
	6: {"VES", "CLO"},
	7: {"TUL", "RUD"},
}

// visited says whether a crew surveyed a walk in a quarter.
func visited(walk string, quarter int) bool { return !slices.Contains(missed[quarter], walk) }

// surveyDay returns the day on which a crew walked a course: in weeks 2 to 10 of the quarter, one
// course after the other.
func surveyDay(turn, of, quarter int) time.Time {
	return calendar[quarter].first.AddDate(0, 0, 10+turn*56/max(1, of))
}

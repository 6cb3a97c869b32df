package demo

import "time"

// season is one quarter of the programme.
type season struct {
	name  string
	first time.Time // first day of the quarter
}

func day(year int, month time.Month, d int) time.Time {
	return time.Date(year, month, d, 0, 0, 0, 0, time.UTC)
}

// calendar lists the quarters, oldest first: southern spring to late winter.
var calendar = []season{
	{"2025Q4", day(2025, time.October, 1)},
	{"2026Q1", day(2026, time.January, 1)},
	{"2026Q2", day(2026, time.April, 1)},
	{"2026Q3", day(2026, time.July, 1)},
}

// unvisited lists the courses that no crew walked in a quarter: floods closed
// the Vessick valley in autumn, and leave was taken at Tullimar in winter.
var unvisited = map[int][]string{
	2: {"VES", "CLO", "CLF", "THI"},
	3: {"RUD", "RUF", "JEB"},
}

// visited says whether a course was walked in a quarter.
func visited(code string, quarter int) bool {
	for _, c := range unvisited[quarter] {
		if c == code {
			return false
		}
	}
	return true
}

// surveyDay returns the day a crew walked a course: within weeks 2 to 10 of
// the quarter, the courses in turn.
func surveyDay(turn, of, quarter int) time.Time {
	return calendar[quarter].first.AddDate(0, 0, 10+turn*56/max(1, of))
}

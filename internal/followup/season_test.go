package followup

import "testing"

// By hand: 60 days from the day after the quarter, the last day of the season at
// most, and from its first day where it has not begun.
func TestInSeason(t *testing.T) {
	for _, c := range []struct {
		quarter  string
		from, to int
		want     string
	}{
		{"2026Q1", 3, 11, "2026-05-30"}, // 30 of April and 30 of May
		{"2026Q2", 3, 11, "2026-08-29"}, // 31 and 29
		{"2026Q3", 3, 11, "2026-11-29"},
		{"2026Q4", 3, 11, "2027-04-29"}, // 31 of March and 29 of April
		{"2026Q3", 3, 10, "2026-10-31"}, // the season ends before the 60 days
		{"2026Q2", 9, 4, "2026-10-30"},  // a season over the new year, not begun
		{"2026Q4", 9, 4, "2027-03-01"},  // and within it
		{"2026Q2", 1, 12, "2026-08-29"},
		{"2026Q2", 7, 7, "2026-07-31"},
		{"2026Q3", 7, 7, "2027-07-31"},
	} {
		s := DefaultSettings()
		s.Season = [2]int{c.from, c.to}
		end := quarter(c.quarter).End()
		got := s.inSeason(end)
		if got.Format("2006-01-02T15:04:05.999999999") != c.want+"T00:00:00" || !got.After(end) {
			t.Errorf("%s, %d to %d: %s, want %s", c.quarter, c.from, c.to, got.Format("2006-01-02"), c.want)
		}
	}
}

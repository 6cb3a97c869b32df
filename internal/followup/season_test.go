package followup

import "testing"

// By hand: 60 days from the day after the quarter, at most to the last day of the season, and from
// its first day if it has not begun.
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

// TestEverySeason: for any months in the setting, with or without a change of year, regrowth seen
// in any quarter is due on a later day in one of these months, at most RetreatDays after the first
// such day.
func TestEverySeason(t *testing.T) {
	for from := 1; from <= 12; from++ {
		for to := 1; to <= 12; to++ {
			months := map[int]bool{to: true} // by hand: from the first on, round the year
			for m := from; m != to; m = m%12 + 1 {
				months[m] = true
			}
			for _, days := range []int{1, 30, 60, 92, 366} {
				for _, name := range []string{"2027Q1", "2027Q2", "2027Q3", "2027Q4", "2028Q1"} {
					s := DefaultSettings()
					s.Season, s.RetreatDays = [2]int{from, to}, days
					end := quarter(name).End()
					due := s.inSeason(end)
					first := end.AddDate(0, 0, 1)
					for !months[int(first.Month())] {
						first = first.AddDate(0, 0, 1)
					}
					if !due.After(end) || !months[int(due.Month())] || due.Before(first) || due.After(first.AddDate(0, 0, days-1)) {
						t.Fatalf("%s, months %d to %d, %d days: due %s", name, from, to, days, due.Format("2006-01-02"))
					}
				}
			}
		}
	}
}

// TestLongRetreat: a season of the whole year ends twelve months after the day from which it is
// counted, however long regrowth may wait; a season of one month ends with that month. By hand.
func TestLongRetreat(t *testing.T) {
	for _, c := range []struct {
		quarter  string
		from, to int
		days     int
		want     string
	}{
		{"2026Q2", 1, 12, 365, "2027-06-30"},
		{"2026Q2", 1, 12, 366, "2027-06-30"},
		{"2026Q2", 1, 12, 800, "2027-06-30"},
		{"2027Q4", 1, 12, 800, "2028-12-31"},
		{"2026Q2", 8, 7, 800, "2027-06-30"},
		{"2026Q1", 3, 11, 244, "2026-11-30"}, // 30 + 31 + 30 + 31 + 31 + 30 + 31 + 30
		{"2026Q1", 3, 11, 243, "2026-11-29"},
		{"2026Q4", 2, 2, 800, "2027-02-28"},
	} {
		s := DefaultSettings()
		s.Season, s.RetreatDays = [2]int{c.from, c.to}, c.days
		if got := s.inSeason(quarter(c.quarter).End()).Format("2006-01-02"); got != c.want {
			t.Errorf("%s, %d to %d, %d days: %s, want %s", c.quarter, c.from, c.to, c.days, got, c.want)
		}
	}
}

// TestAddMonths: a day that the month lacks becomes its last, in leap years too. By hand.
func TestAddMonths(t *testing.T) {
	for _, c := range []struct {
		from   string
		months int
		want   string
	}{
		{"2024-01-31", 1, "2024-02-29"}, {"2023-01-31", 1, "2023-02-28"}, {"2023-02-28", 12, "2024-02-28"}, {"2024-02-29", 12, "2025-02-28"}, {"2024-02-29", 48, "2028-02-29"},
		{"2026-10-31", 1, "2026-11-30"}, {"2026-11-30", 1, "2026-12-30"}, {"2026-12-31", 2, "2027-02-28"}, {"2026-01-01", 12, "2027-01-01"}, {"2026-05-15", 7, "2026-12-15"}, {"2026-05-15", 8, "2027-01-15"},
	} {
		if got := addMonths(day(c.from), c.months); !got.Equal(day(c.want)) {
			t.Errorf("%d months after %s: %s, want %s", c.months, c.from, got.Format("2006-01-02"), c.want)
		}
	}
}

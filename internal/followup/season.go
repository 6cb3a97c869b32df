package followup

import "time"

// inSeason returns the day by which regrowth seen in a quarter is to be treated again: RetreatDays
// after the quarter's last day or, if the season has not begun by then, after the day before it
// begins. It is never later than the season's last day, and always after the quarter.
func (s Settings) inSeason(end time.Time) time.Time {
	next := end.AddDate(0, 0, 1)
	begin := next
	for !s.holds(begin) {
		begin = nextMonth(begin)
	}
	last, year := begin, begin.AddDate(1, 0, 0)
	for month := begin; s.holds(month) && month.Before(year); month = nextMonth(month) {
		last = nextMonth(month).AddDate(0, 0, -1)
	}
	due := begin.AddDate(0, 0, s.RetreatDays-1)
	if due.After(last) {
		return last
	}
	return due
}

// nextMonth returns the first day of the month after a day's.
func nextMonth(day time.Time) time.Time {
	return time.Date(day.Year(), day.Month()+1, 1, 0, 0, 0, 0, time.UTC)
}

// holds says whether a day is in the season, by its month.
func (s Settings) holds(day time.Time) bool {
	month, from, to := int(day.Month()), s.Season[0], s.Season[1]
	if from <= to {
		return from <= month && month <= to
	}
	return month >= from || month <= to
}

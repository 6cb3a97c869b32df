package followup

import (
	"time"

	"driftreach/internal/survey"
)

// PutBack corrects a row when looks that found nothing are known to have been wrong, at the end of
// a quarter: the stand was there all the time, nobody looked, and there are no clear years.
func (r Row) PutBack(s Settings, quarter survey.Quarter) Row {
	r.Present, r.Look, r.Clear, r.Lost, r.LastLook = true, Nobody, Clear{}, 0, r.LastSeen
	r.State, r.Due, r.Again = ToTreat, time.Time{}, time.Time{}
	switch {
	case r.Work.Days > 0 || isDead(r.Status):
		since := r.lastEvent(s.RevisitMonths)
		if since.IsZero() {
			since = quarter.End()
		}
		r.State, r.Due = LookAgain, addMonths(since, s.RevisitMonths)
	case r.Status == survey.Resprout:
		r.State, r.Due = TreatAgain, s.inSeason(quarter.End())
	}
	return r
}

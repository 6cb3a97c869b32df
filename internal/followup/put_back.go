package followup

import (
	"time"

	"driftreach/internal/survey"
)

// PutBack returns the row as it is once it is known that the looks which found nothing
// were wrong, at the end of a quarter: the stand was there all the time, nobody looked,
// and clear years are none.
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

package followup

import (
	"slices"
	"time"

	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// look is one quarter of one stand. It updates the stand's history by the quarter's survey and
// work.
type look struct {
	settings Settings
	quarter  survey.Quarter
	subject  *Subject
	before   Row // its history; the zero Row for none
}

// after returns the row at the end of the quarter. work must be sorted by day; told is further work
// that earlier batches knew.
func (l *look) after(work, told []treatment.Treatment) Row {
	sub := l.subject
	r := l.before
	r.StandID, r.Present, r.Look, r.Order, r.Place, r.Lost = sub.ID, sub.Present, sub.Look, sub.Order, sub.Place, 0
	worked := r.Work.add(work)
	day := sub.Day
	if day.IsZero() {
		day = l.quarter.End()
	}
	seen := day
	if sub.Look == Nobody {
		seen = latest(r.LastLook, r.LastSeen)
	}
	r.Done = partOf(sub, slices.Concat(told, work), seen)
	switch sub.Look {
	case Found:
		l.found(&r, day, worked)
	case NotFound:
		l.notFound(&r, day)
	default:
		if worked {
			l.reported(&r)
		}
	}
	asks := r.State == TreatAgain || r.State == ToTreat
	switch {
	case !asks: // it already needs a look
		r.Again, r.Done = time.Time{}, Part{Share: r.Done.Share}
	case r.Done.Cut != nil:
		r.Place.Position = r.Done.Cut.RestAt
	}
	if !r.Again.IsZero() && !r.LastLook.Before(r.Again) {
		r.Again = time.Time{} // somebody has looked
	}
	return r
}

// add counts the days of work later than the last day counted, and says whether there were any.
func (w *Work) add(actions []treatment.Treatment) bool {
	worked := false
	for i := range actions {
		a := &actions[i]
		if a.Date.After(w.Last) {
			*w = Work{Days: w.Days + 1, Last: a.Date, Method: a.Method, FormulationClass: a.FormulationClass}
			worked = true
		}
	}
	return worked
}

// treated updates a stand that was treated after its last look.
func (l *look) treated(r *Row) {
	again := addMonths(r.Work.Last, l.settings.RevisitMonths)
	r.State, r.Clear, r.Due = LookAgain, Clear{}, again
	if r.Done.Share < 1 && !isDead(r.Status) {
		r.State, r.Due, r.Again = ToTreat, time.Time{}, again
		if l.before.State == TreatAgain {
			r.State, r.Due = TreatAgain, l.before.Due
		}
	}
}

// found updates a stand with records of the quarter; day is the last of them.
func (l *look) found(r *Row, day time.Time, worked bool) {
	r.Status, r.LastSeen, r.LastLook = l.subject.Status, latest(r.LastSeen, day), latest(r.LastLook, day)
	r.Lost, r.Clear = r.Clear.Years, Clear{}
	regrown := l.before.State == TreatAgain && !worked
	dead := isDead(r.Status)
	treatedBefore := r.Work.Days > 0 || l.before.State == LookAgain || isDead(l.before.Status) && !l.before.LastSeen.IsZero()
	switch {
	case !r.Work.Last.IsZero() && !r.Work.Last.Before(day):
		l.treated(r)
	case dead:
		r.State, r.Due = LookAgain, l.again(r)
	case regrown:
		r.State, r.Due = TreatAgain, l.before.Due
	case treatedBefore || r.Status == survey.Resprout:
		l.growing(r)
	default:
		r.State, r.Due, r.Again = ToTreat, time.Time{}, time.Time{}
	}
}

func isDead(s survey.Status) bool { return s == survey.Treated || s == survey.StandingDead }

// growing updates a stand that is growing again after treatment. A look that was due stays due.
func (l *look) growing(r *Row) {
	switch {
	case r.Work.Days > 0:
		r.Again = addMonths(r.Work.Last, l.settings.RevisitMonths)
	case l.before.State == LookAgain:
		r.Again = l.before.Due
	}
	r.State, r.Due = TreatAgain, l.settings.inSeason(l.quarter.End())
}

// lastEvent is the day from which the next look is counted: the last work, or the last find if that
// counts as the look after the work.
func (r *Row) lastEvent(months int) time.Time {
	dead := r.Status == survey.StandingDead && ordinal(r.LastSeen) > ordinal(r.Work.Last)
	if r.Work.Days > 0 && !dead && addMonths(r.Work.Last, months).After(r.LastSeen) {
		return r.Work.Last
	}
	return r.LastSeen
}

// again is the day by which a treated stand is to be looked at again.
func (l *look) again(r *Row) time.Time {
	return addMonths(r.lastEvent(l.settings.RevisitMonths), l.settings.RevisitMonths)
}

// notFound updates a stand that was surveyed and not found; day is the last look.
func (l *look) notFound(r *Row, day time.Time) {
	r.LastLook = latest(r.LastLook, day)
	if !r.Work.Last.IsZero() && !r.Work.Last.Before(day) {
		l.treated(r)
		return
	}
	l.clear(r, day)
}

// reported updates a stand that nobody looked at, for reported work: new work, or work older than
// the last look.
func (l *look) reported(r *Row) {
	switch {
	case !r.Work.Last.Before(r.LastLook) && r.Done.Share > 0:
		l.treated(r)
	case r.State == ToTreat:
		l.growing(r)
	case r.State == Watch || r.State == Released:
		l.clear(r, r.LastLook)
	}
}

// clear adds a clear look to the series, or begins a new series.
func (l *look) clear(r *Row, day time.Time) {
	switch {
	case r.Clear.Years == 0 || !r.Work.Last.Before(r.Clear.Since):
		r.Clear = Clear{Since: day, Last: day, Years: 1}
	case ordinal(day)-ordinal(r.Clear.Last) >= quartersApart:
		r.Clear.Last = day
		r.Clear.Years++
	}
	r.State, r.Due = Watch, addMonths(r.Clear.Last, monthsApart)
	if r.Clear.Years >= l.settings.ClearYears {
		r.State, r.Due = Released, time.Time{}
	}
}

// Clear looks are yearly (landowner and watershed handbooks: every year for at least five years).
const (
	quartersApart = 4
	monthsApart   = 12
)

// ordinal numbers the quarters, each day giving the number of its quarter.
func ordinal(day time.Time) int { return 4*day.Year() + (int(day.Month())-1)/3 }

func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// addMonths adds calendar months. A day that the month lacks becomes its last day.
func addMonths(day time.Time, months int) time.Time {
	first := time.Date(day.Year(), day.Month()+time.Month(months), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return first.AddDate(0, 0, min(day.Day(), last)-1)
}

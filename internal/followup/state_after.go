package followup

import (
	"slices"
	"time"

	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// look is one quarter of one stand: what the survey and the work make of its
// history.
type look struct {
	settings Settings
	quarter  survey.Quarter
	subject  *Subject
	before   Row // its history; the zero Row for none
}

// after returns the row at the quarter's end. Work is in the order of its days; told
// is what earlier batches knew of besides.
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
	case !asks: // it is one
		r.Again, r.Done = time.Time{}, Part{Share: r.Done.Share}
	case r.Done.Rest != nil:
		r.Place.Position = r.Done.RestAt
	}
	if !r.Again.IsZero() && !r.LastLook.Before(r.Again) {
		r.Again = time.Time{} // somebody looked
	}
	return r
}

// add counts days of work later than the last counted, and says whether there
// were any.
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

// treated makes a stand one that was treated after it was last looked at.
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

// found is a stand with records of the quarter, the last on a day.
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

// growing makes a stand one that is growing again after it was treated; the look
// again that was due stays.
func (l *look) growing(r *Row) {
	switch {
	case r.Work.Days > 0:
		r.Again = addMonths(r.Work.Last, l.settings.RevisitMonths)
	case l.before.State == LookAgain:
		r.Again = l.before.Due
	}
	r.State, r.Due = TreatAgain, l.settings.inSeason(l.quarter.End())
}

// lastEvent is the day from which the next look is counted: that of the last
// work, or of the last find when it was that work's look.
func (r *Row) lastEvent(months int) time.Time {
	dead := r.Status == survey.StandingDead && ordinal(r.LastSeen) > ordinal(r.Work.Last)
	if r.Work.Days > 0 && !dead && addMonths(r.Work.Last, months).After(r.LastSeen) {
		return r.Work.Last
	}
	return r.LastSeen
}

// again is the day by which a treated stand is looked at again.
func (l *look) again(r *Row) time.Time {
	return addMonths(r.lastEvent(l.settings.RevisitMonths), l.settings.RevisitMonths)
}

// notFound is a stand that was looked for in vain, last on a day.
func (l *look) notFound(r *Row, day time.Time) {
	r.LastLook = latest(r.LastLook, day)
	if !r.Work.Last.IsZero() && !r.Work.Last.Before(day) {
		l.treated(r)
		return
	}
	l.clear(r, day)
}

// reported is work that was reported for a stand nobody looked at: new, or older
// than what was seen last.
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

// clear adds a clear look to the row of them, or begins a row with it.
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

// Clear looks are yearly (landowner and watershed handbooks: every year for at
// least five).
const (
	quartersApart = 4
	monthsApart   = 12
)

// ordinal counts the quarter that a day is in.
func ordinal(day time.Time) int { return 4*day.Year() + (int(day.Month())-1)/3 }

func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// addMonths counts calendar months; a day the month lacks becomes its last.
func addMonths(day time.Time, months int) time.Time {
	first := time.Date(day.Year(), day.Month()+time.Month(months), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return first.AddDate(0, 0, min(day.Day(), last)-1)
}

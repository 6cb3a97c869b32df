package followup

import (
	"fmt"
	"time"

	"driftreach/internal/survey"
)

// What returns the next thing to do about a stand, in one sentence.
func (r *Row) What(s Settings) string {
	due := r.Due.Format(time.DateOnly)
	switch {
	case r.State == Released:
		return "released from follow-up"
	case r.State == Watch:
		return fmt.Sprintf("look again by %s: clear in %d of %d years", due, r.Clear.Years, s.ClearYears)
	case r.State == TreatAgain && r.LookFirst():
		return secondLook(r.Again) + "; treat the regrowth again by " + due
	case r.State == TreatAgain && r.TwoDays():
		return "treat the regrowth again by " + due + "; " + secondLook(r.Again)
	case r.State == TreatAgain:
		return "treat the regrowth again by " + due
	case r.State == LookAgain:
		return "look again by " + due
	}
	treat := "treat"
	if !r.Again.IsZero() {
		treat = "treat the rest"
	}
	if r.Order > 0 {
		treat += fmt.Sprintf(", number %d in the order", r.Order)
	}
	if !r.Again.IsZero() {
		treat += "; " + secondLook(r.Again)
	}
	return treat
}

// secondLook says by when to look again at treated ground.
func secondLook(by time.Time) string {
	return "look again by " + by.Format(time.DateOnly) + " at what was treated"
}

// Why returns the reasons, latest observation or work first.
func (r *Row) Why(s Settings) []string {
	out := []string{r.reason(s)}
	if r.Lost > 0 {
		out = append(out, fmt.Sprintf("found again after %s", plural(r.Lost, "clear look")))
	}
	if r.Look == Nobody {
		out = append(out, "nobody saw its ground this quarter")
	}
	return out
}

func (r *Row) reason(s Settings) string {
	seen, worked := r.LastSeen.Format(time.DateOnly), r.Work.Last.Format(time.DateOnly)
	switch {
	case r.State == Released:
		return fmt.Sprintf("clear in %d years in a row, since %s", r.Clear.Years, r.Clear.Since.Format(time.DateOnly))
	case r.State == Watch:
		return "not found on " + r.LastLook.Format(time.DateOnly) + ", clear since " + r.Clear.Since.Format(time.DateOnly)
	case r.State == TreatAgain && r.Status == survey.Untreated && r.Work.Days > 0:
		return "treated on " + worked + ", growing again on " + seen
	case r.State == TreatAgain && r.Status == survey.Untreated:
		return "treated, growing again on " + seen
	case r.State == TreatAgain:
		return "regrowth on " + seen
	case r.State == LookAgain && r.Work.Days > 0 && r.lastEvent(s.RevisitMonths).Equal(r.Work.Last):
		return "treated on " + worked
	case r.State == LookAgain && r.Status == survey.StandingDead:
		return "standing dead on " + seen
	case r.State == LookAgain:
		return "seen as treated on " + seen
	}
	if !r.Again.IsZero() {
		return "treated in part on " + worked + r.Done.words()
	}
	return "not treated yet"
}

// words says how the treated part of a stand is known.
func (p *Part) words() string {
	switch {
	case p.Share <= 0:
		return ""
	case p.Cut == nil:
		return ", by its acres: nobody knows which ground of the stand"
	case p.ByAcres > 0:
		return ", by the area drawn, and by acres whose ground nobody knows"
	}
	return ", by the area drawn"
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

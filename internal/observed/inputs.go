package observed

import (
	"time"

	"driftreach/internal/format"
	"driftreach/internal/intake"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// Inputs is what one quarter's batch is made from. All roles but points and streams
// are optional.
type Inputs struct {
	Of      map[string]Files // by role
	Quarter survey.Quarter
	After   survey.Quarter // of the batch before: evidence begins after it; zero for none
	// Trial reads on past what would stop the batch; each file has what would stop it.
	Trial bool
}

// Files are the files of one role.
type Files struct {
	Sources []format.Source
	System  string // their reference system, as earth.ParseCRS reads it; blank for what they say
}

// Sources returns every file of the inputs.
func (in Inputs) Sources() []format.Source {
	var all []format.Source
	for _, role := range intake.Roles() {
		all = append(all, in.Of[role.Name].Sources...)
	}
	return all
}

// firstDay returns the first day whose records and surveyed ground are evidence
// for the quarter: its own, or the one after the quarter of the batch before, or
// an earlier one that the settings name. No day without a quarter.
func (in Inputs) firstDay(s settings.Settings) survey.Day {
	if in.Quarter.IsZero() {
		return 0
	}
	first := in.Quarter.Begin()
	if !in.After.IsZero() {
		first = in.After.Next().Begin()
	}
	day := survey.DayOf(first)
	if since, err := time.Parse(time.DateOnly, s.Survey.Since); err == nil {
		day = min(day, survey.DayOf(since))
	}
	return day
}

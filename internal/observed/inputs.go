package observed

import (
	"time"

	"driftreach/internal/format"
	"driftreach/internal/intake"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// Inputs is the input of one quarter's batch. All roles except points and streams are optional.
type Inputs struct {
	Of      map[string]Files // by role
	Quarter survey.Quarter
	After   survey.Quarter // quarter of the previous batch, after which evidence begins; zero for none
	// Trial continues past problems that would stop the batch. They are recorded with each file.
	Trial bool
}

// Files is the files of one role.
type Files struct {
	Sources []format.Source
	System  string // reference system, as read by earth.ParseCRS; blank to use the one in the files
}

// Sources returns every file of the inputs.
func (in Inputs) Sources() []format.Source {
	var all []format.Source
	for _, role := range intake.Roles() {
		all = append(all, in.Of[role.Name].Sources...)
	}
	return all
}

// firstDay returns the first day whose records and surveyed ground count as evidence for the quarter:
// the day after the previous batch's quarter, else the first day of the quarter, or an earlier day from
// the settings. It is zero without a quarter.
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

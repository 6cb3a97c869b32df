package followup

import (
	"time"

	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// Site is the input of one quarter's follow-up.
type Site struct {
	Quarter  survey.Quarter
	Subjects []Subject             // the stands on the map and those mapped before; each id once
	Before   []Row                 // rows of the last batch, in any order; none for the first
	Since    time.Time             // last day of that batch's quarter; zero for the first
	Actions  []treatment.Treatment // all work supplied, sorted by date and content
	Told     []Told                // work that earlier batches received and this one did not
	Settings Settings

	rows map[string]*Row // Before, by id
}

// Told is work that an earlier batch of the chain received.
type Told struct {
	treatment.Treatment
	Stands []string // ids of the stands it was done on
}

// before returns the last batch's row for an id, or an empty row.
func (s *Site) before(id string) *Row {
	if r := s.rows[id]; r != nil {
		return r
	}
	return &Row{}
}

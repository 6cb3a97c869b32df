package plan

import (
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// Site is the input of a plan: the stands at the end of a quarter.
type Site struct {
	Quarter survey.Quarter // the quarter that has ended; the next is the first planned
	Stands  []Stand        // in treatment order, ties by id
	Draws   int            // number of draws of the drift model; 0 for none
}

// Stand is one stand as input of the plan.
type Stand struct {
	Order   int                   // in the treatment order, counted from 1
	Reaches []int32               // stands that its fragments reach, ascending
	Waiting []Block               // blocks waiting for first treatment, from the top down; empty for none
	Factor  drift.Factor          // factor on the cost of an acre
	Place   int32                 // number of its site
	Outlier bool                  // young and isolated
	Unseen  int                   // number of quarters since it was last seen; 0 for seen in this one
	Seen    string                // quarter when it was last seen, for text
	Windows []Window              // by planned quarter: when it may be treated; nil for any day
	Due     []Due                 // visits due to its treated ground
	Draws   []drift.DrawnExposure // by draw: exposure of everything that waits; nil for unknown
}

// Block is a part of a stand that is treated as one piece of work.
type Block struct {
	At       orb.Point // place to go to, degrees
	Acres    geo.Acres
	Exposure drift.AmountKm // removed in each quarter in which the block is gone
}

// Window is the time in a quarter when a stand may be treated.
type Window struct {
	From, To time.Time // first and last day; zero for those of the quarter
	Why      string    // why it cannot be treated at all, one clause; blank if it can
}

// Due is a visit due to treated ground of a stand.
type Due struct {
	Day   time.Time // due day
	Year  int       // after the first treatment, counted from 1
	Acres geo.Acres // treated acres
	At    orb.Point
	Grows drift.AmountKm // exposure of known regrowth, per quarter; 0 for none
	Why   string         // one clause
}

// window returns when a stand may be treated in a planned quarter; quarter 0 is the first.
func (s *Stand) window(quarter survey.Quarter, q int, look int) Window {
	w := Window{From: quarter.Begin(), To: quarter.End()}
	if q < len(s.Windows) {
		own := s.Windows[q]
		if !own.From.IsZero() {
			w.From = own.From
		}
		if !own.To.IsZero() {
			w.To = own.To
		}
		w.Why = own.Why
	}
	if w.Why == "" && q == 0 && s.Unseen >= look {
		w.Why = NotLookedAt + s.Seen + ": look at it before it is planned"
	}
	return w
}

// NotLookedAt is the beginning of the reason why an unseen stand is not planned.
const NotLookedAt = "not looked at since "

package plan

import (
	"time"

	"github.com/paulmach/orb"

	"driftreach/internal/survey"
)

// Site is what a programme knows when it plans: the stands at the end of a quarter.
type Site struct {
	Quarter survey.Quarter // that has ended; the next is the first planned
	Stands  []Stand        // in treatment order, ties by id
	Draws   int            // of the drift; 0 for none
}

// Stand is one stand as the plan sees it.
type Stand struct {
	Order   int       // in the treatment order, 1 first
	Reaches []int32   // stands that its fragments reach, ascending
	Waiting []Block   // what waits for first treatment, from the top down; none for nothing
	Factor  float64   // on what an acre costs
	Place   int32     // stands of one number are one site
	Outlier bool      // young and by itself
	Unseen  int       // quarters in which nobody saw it, up to now; 0 for seen in this one
	Seen    string    // quarter it was last seen in, for words
	Windows []Window  // by planned quarter: when it may be treated; nil for any day
	Due     []Due     // visits due to what was treated of it
	Draws   []float32 // by draw: exposure of all that waits; nil for not known
}

// Block is a part of a stand that is treated as one piece of work.
type Block struct {
	At       orb.Point // place to go to, degrees
	Acres    float64
	Exposure float64 // taken away in a quarter in which it is not there
}

// Window is when in a quarter a stand may be treated.
type Window struct {
	From, To time.Time // first and last day; zero for the quarter's own
	Why      string    // why it cannot be at all, one clause; blank where it can
}

// Due is a visit due to what was treated of a stand.
type Due struct {
	Day   time.Time // by which
	Year  int       // after the first treatment, 1 first
	Acres float64   // that were treated
	At    orb.Point
	Grows float64 // exposure of what grows again, a quarter; 0 for nothing known to
	Why   string  // one clause
}

// window returns when a stand may be treated in a planned quarter, 0 first.
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

// NotLookedAt begins the reason why a stand that nobody saw is not planned.
const NotLookedAt = "not looked at since "

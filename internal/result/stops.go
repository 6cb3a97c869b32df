package result

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/internal/crew"
	"driftreach/internal/followup"
	"driftreach/internal/plan"
	"driftreach/internal/treatable"
)

// Stop is a place that a crew may go to: for a visit, or for planned work.
type Stop struct {
	Number int       // in the order in which the crew goes, from 1; 0 if nobody needs to go there now
	Name   string    // on the screen of a GPS unit
	Visit  int32     // index into Run.Visits
	At     orb.Point // degrees
	Row    *plan.Row // of the plan; nil if there is none
}

// Stops returns the places of all stands that are not released, in the order in which to go. With a
// plan, first comes the work of its first quarter in the plan's order, and then the due visits to
// stands that are not on the map. Without a plan, first come the stands to treat in treatment order,
// and then the visits that are overdue or due by the end of the next quarter, the earliest first. All
// other stands follow, by treatment order and id. A stand planned in blocks has a stop for each block.
// It takes n log n time.
func Stops(run *Run) []Stop {
	planned := run.plannedStops()
	has := make(map[int32]bool, len(planned))
	for _, s := range planned {
		has[s.Visit] = true
	}
	var rest []Stop
	for i := range run.Visits {
		if v := &run.Visits[i]; v.State != followup.Released && onEarth(v.Place.Position) && !has[int32(i)] {
			rest = append(rest, Stop{Visit: int32(i), At: v.Place.Position})
		}
	}
	slices.SortFunc(rest, func(a, b Stop) int {
		va, vb := run.visit(a), run.visit(b)
		turn := run.turn(va)
		c := cmp.Compare(turn, run.turn(vb))
		if c == 0 && turn == dueTurn {
			c = va.Due.Compare(vb.Due)
		}
		return cmp.Or(c, cmp.Compare(orLast(va.Order), orLast(vb.Order)), strings.Compare(va.StandID, vb.StandID), cmp.Compare(a.Visit, b.Visit))
	})
	stops := slices.Concat(planned, rest)
	for k := range stops {
		if stops[k].Row != nil || run.turn(run.visit(stops[k])) < laterTurn {
			stops[k].Number = k + 1
		}
	}
	run.nameStops(stops)
	return stops
}

// nameStops names stops after the ids of their stands. The names do not depend on the order. If a stand
// has several blocks, the first planned one has the stand's name.
func (r *Run) nameStops(stops []Stop) {
	byID := make([]int, len(stops))
	for k := range byID {
		byID[k] = k
	}
	slices.SortStableFunc(byID, func(a, b int) int { return strings.Compare(r.visit(stops[a]).StandID, r.visit(stops[b]).StandID) })
	var names crew.Names
	for _, k := range byID {
		stops[k].Name = names.Of(r.visit(stops[k]).StandID)
	}
}

// plannedStops returns the stops of the plan's first quarter, in its order.
func (r *Run) plannedStops() []Stop {
	if r.Plan == nil {
		return nil
	}
	visitOf := make(map[int32]int32, len(r.Visits))
	for i := range r.Visits {
		if s := r.Visits[i].Stand; s >= 0 {
			visitOf[s] = int32(i)
		}
	}
	var stops []Stop
	for i := range r.Plan.Rows {
		row := &r.Plan.Rows[i]
		visit, known := visitOf[row.Stand]
		if known && row.Quarter == r.Plan.Rows[0].Quarter && onEarth(row.At) {
			stops = append(stops, Stop{Visit: visit, At: row.At, Row: row})
		}
	}
	return stops
}

// The turns in which stops are visited.
const (
	treatTurn = iota // to treat, without a plan
	dueTurn          // a visit is due
	laterTurn        // nobody needs to go there now
)

// turn returns the turn of a visit.
func (r *Run) turn(v *Visit) int {
	switch {
	case r.Plan != nil && v.Stand >= 0:
		return laterTurn // the plan already has all work that the budget allows
	case v.State == followup.ToTreat, v.State == followup.TreatAgain && v.Order > 0:
		return treatTurn
	case !v.Due.IsZero() && !v.Due.After(r.Quarter.Next().End()), v.State == followup.TreatAgain:
		return dueTurn
	}
	return laterTurn
}

func orLast(order int) int {
	if order == 0 {
		return math.MaxInt
	}
	return order
}

func (r *Run) visit(s Stop) *Visit { return &r.Visits[s.Visit] }

func onEarth(p orb.Point) bool { return OnEarth(&p) }

// Listed returns the stops that the crew visits.
func Listed(stops []Stop) []Stop {
	k := slices.IndexFunc(stops, func(s Stop) bool { return s.Number == 0 })
	if k < 0 {
		return stops
	}
	return stops[:k]
}

// Task says what to do at a stop in a word or two.
func (r *Run) Task(s Stop) string {
	switch v := r.visit(s); {
	case s.Row != nil && s.Row.Kind == plan.First && s.Row.Blocks > 1:
		return fmt.Sprintf("treat block %d of %d", s.Row.Block, s.Row.Blocks)
	case v.State == followup.ToTreat && !v.Again.IsZero():
		return "treat the rest"
	case v.State == followup.ToTreat:
		return "treat"
	case v.State == followup.TreatAgain:
		return "treat again"
	}
	return "look again"
}

// told returns the texts that the records of a stop's stand have in a carried column, in the order of
// the records, and then those of its rows of --treatable. Each text is listed once.
func (r *Run) told(s Stop, column string, of func(*treatable.Rule) []string) []string {
	at := r.visit(s).Stand
	if at < 0 {
		return nil
	}
	stand := &r.Stands[at]
	out := r.toldOf(stand, column)
	for i := range stand.Treatable {
		for _, said := range of(&stand.Treatable[i]) {
			if said = strings.TrimSpace(said); said != "" && !slices.Contains(out, said) {
				out = append(out, said)
			}
		}
	}
	return out
}

// toldOf returns the texts that a stand's records have in a carried column, each once.
func (r *Run) toldOf(s *Stand, column string) []string {
	k := slices.IndexFunc(r.ExtraColumns, func(name string) bool { return strings.EqualFold(strings.TrimSpace(name), column) })
	if k < 0 || column == "" {
		return nil
	}
	var out []string
	for _, m := range s.Members {
		text, _ := r.Records.At(int(m)).Carried(k)
		if strings.TrimSpace(text) != "" && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}

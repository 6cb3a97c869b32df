package result

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/internal/crew"
	"driftreach/internal/followup"
)

// Stop is a place that a crew may go to: that of one visit.
type Stop struct {
	Number int    // in the order in which the crew goes, 1 first; 0 for one that nobody need go to now
	Name   string // on a unit's screen
	Visit  int32  // index into Run.Visits
}

// Stops returns the places of all stands that are not released, those to go to first:
// what asks for treatment in the order of treatment, then the visits that are due by
// the end of the next quarter or overdue, the first due first. The others follow by
// treatment order and id. n log n.
func Stops(run *Run) []Stop {
	var stops []Stop
	var names crew.Names
	for i := range run.Visits {
		if v := &run.Visits[i]; v.State != followup.Released && onEarth(v.Place.Position) {
			stops = append(stops, Stop{Visit: int32(i)})
		}
	}
	byID := slices.Clone(stops)
	slices.SortFunc(byID, func(a, b Stop) int { return strings.Compare(run.visit(a).StandID, run.visit(b).StandID) })
	name := make(map[int32]string, len(byID))
	for _, s := range byID {
		name[s.Visit] = names.Of(run.visit(s).StandID)
	}
	slices.SortFunc(stops, func(a, b Stop) int {
		va, vb := run.visit(a), run.visit(b)
		turn := run.turn(va)
		c := cmp.Compare(turn, run.turn(vb))
		if c == 0 && turn == dueTurn {
			c = va.Due.Compare(vb.Due)
		}
		return cmp.Or(c, cmp.Compare(orLast(va.Order), orLast(vb.Order)), strings.Compare(va.StandID, vb.StandID), cmp.Compare(a.Visit, b.Visit))
	})
	for k := range stops {
		stops[k].Name = name[stops[k].Visit]
		if run.turn(run.visit(stops[k])) < laterTurn {
			stops[k].Number = k + 1
		}
	}
	return stops
}

// The turns of stops.
const (
	treatTurn = iota // asks for treatment
	dueTurn          // a visit is due
	laterTurn        // nobody need go there now
)

// turn says in which of the turns a visit comes.
func (r *Run) turn(v *Visit) int {
	switch {
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

// Listed returns the stops that the crew goes to.
func Listed(stops []Stop) []Stop {
	k := slices.IndexFunc(stops, func(s Stop) bool { return s.Number == 0 })
	if k < 0 {
		return stops
	}
	return stops[:k]
}

// Task is what is to be done at a stop in a word or two.
func (r *Run) Task(s Stop) string {
	switch v := r.visit(s); {
	case v.State == followup.ToTreat && !v.Again.IsZero():
		return "treat the rest"
	case v.State == followup.ToTreat:
		return "treat"
	case v.State == followup.TreatAgain:
		return "treat again"
	}
	return "look again"
}

// told returns what the records of a stop's stand tell in a carried column, each text
// once, in the order of the records; none where no column has that name.
func (r *Run) told(s Stop, column string) []string {
	k := slices.IndexFunc(r.ExtraColumns, func(name string) bool { return strings.EqualFold(strings.TrimSpace(name), column) })
	stand := r.visit(s).Stand
	if k < 0 || stand < 0 || column == "" {
		return nil
	}
	var out []string
	for _, m := range r.Stands[stand].Members {
		extra := r.Records[m].Told().Extra
		if k < len(extra) && strings.TrimSpace(extra[k]) != "" && !slices.Contains(out, extra[k]) {
			out = append(out, extra[k])
		}
	}
	return out
}

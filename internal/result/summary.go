package result

import (
	"slices"

	"driftreach/internal/allocate"
	"driftreach/internal/survey"
)

// Scope says what a summary row sums over.
type Scope string

// The scopes, in the order of the rows.
const (
	Total     Scope = "total"     // the whole batch
	WaterBody Scope = "waterBody" // stands whose nearest stream has the row's name
	Unnamed   Scope = "unnamed"   // stands whose nearest stream has no name
	NoStream  Scope = "noStream"  // stands of a batch without streams

	InUnit       Scope = "unit"         // what lies in a reporting unit
	OutsideUnits Scope = "outsideUnits" // what lies in none of them

	NoStand Scope = "noStand" // control work done on no stand that is known, beside the streams
	NoPlace Scope = "noPlace" // such work without a position, beside the units
)

// noStandName is the name of the rows of work done on no stand that is known.
const noStandName = "no stand named"

// Sum is one row of the summary. Acres are in grains, sums of the stands' exact
// areas. Kilometres are in units of 1e-4 and fragments of 1e-6, as the dictionary
// rounds them: sums of the reaches' and stands' own printed figures. All are whole
// numbers, the same in any order.
type Sum struct {
	Scope   Scope
	Name    string // the water body's, or the unit's
	UnitID  string
	Quarter string

	Stands, Isolated, InZone            int
	Gross, Infested, Canopy, Zone       int64
	ByStatus                            [4]int64 // infested, by survey.Status
	ReachAtRisk, FloodReach             int64
	Released, Settled, Held, Aged, Left int64

	Margin rowMargin
	Change Parts // all 0 in the first batch of a chain
	Since  sinceLook
	Work   TreatmentSum // of the quarter
}

// Summarize returns the total first; then a row for each water body that has a
// stand or a reach at risk, by name, those without a name and without a stream;
// then, where reporting units were given, a row for every unit, in their order,
// and one for what lies outside all of them. The total's acres are rounded once to
// what is printed; every column of it is the sum of the streams' rows and, once more,
// of the units' rows, which are made to add up by largest remainder.
func Summarize(run *Run) []Sum {
	streams, units := sumStreams(run), sumUnits(run)
	total := Sum{Scope: Total, Quarter: run.Quarter.String()}
	for i := range streams {
		total.add(&streams[i])
	}
	if len(run.Stands) == 0 && run.Previous == nil {
		total.Since.look(run.Quarter, 0) // looked, and found nothing
	}
	if len(units) > 0 {
		run.inPrint(&total, streams, units)
	} else {
		run.inPrint(&total, streams)
	}
	return slices.Concat([]Sum{total}, streams, units)
}

// Live returns the infested acres, in grains, of stands that are untreated or grow
// again.
func (s *Sum) Live() int64 { return s.ByStatus[survey.Untreated] + s.ByStatus[survey.Resprout] }

// live says whether a stand of a status counts among live acres.
func live(s survey.Status) bool { return s != survey.Treated && s != survey.StandingDead }

// units returns x in fixed point, 0 for what is not a number.
func units(x float64, u Unit) int64 {
	n, _ := scaled(x, u.Decimals())
	return n
}

// addStand adds a stand as a whole but for its acres: itself and its fragments.
func (s *Sum) addStand(t *Stand) {
	s.Stands++
	s.Isolated += ones(t.Isolated)
	s.InZone += ones(t.Zone.InZone)
	b := massBalanceOf(t.Drift)
	s.Released += b.released
	s.Settled += b.settled
	s.Held += b.held
	s.Aged += b.aged
	s.Left += b.left
}

// addAcres adds the acres of a stand, all of them or a unit's share.
func (s *Sum) addAcres(t *Stand, a allocate.Share) {
	s.Gross += a.Gross
	s.Infested += a.Infested
	s.Canopy += a.Canopy
	s.Zone += a.Zone
	if int(t.Status) < len(s.ByStatus) {
		s.ByStatus[t.Status] += a.Infested
	} else {
		s.ByStatus[survey.Untreated] += a.Infested
	}
}

// addReach adds kilometres of a water stage's reach.
func (s *Sum) addReach(stage uint8, km int64) {
	if stage == 0 {
		s.ReachAtRisk += km
	} else {
		s.FloodReach += km
	}
}

func ones(b bool) int {
	if b {
		return 1
	}
	return 0
}

// add adds another row's figures.
func (s *Sum) add(o *Sum) {
	s.Stands += o.Stands
	s.Isolated += o.Isolated
	s.InZone += o.InZone
	s.Gross += o.Gross
	s.Infested += o.Infested
	s.Canopy += o.Canopy
	s.Zone += o.Zone
	for k := range s.ByStatus {
		s.ByStatus[k] += o.ByStatus[k]
	}
	s.ReachAtRisk += o.ReachAtRisk
	s.FloodReach += o.FloodReach
	s.Released += o.Released
	s.Settled += o.Settled
	s.Held += o.Held
	s.Aged += o.Aged
	s.Left += o.Left
	s.Margin.add(&o.Margin)
	s.Change.add(&o.Change)
	s.Since.join(&o.Since)
	s.Work.add(&o.Work)
}

package result

import (
	"slices"

	"driftreach/internal/allocate"
	"driftreach/internal/survey"
)

// Scope says what a summary row is the sum of.
type Scope string

// The scopes, in the order of the rows.
const (
	Total     Scope = "total"     // the whole batch
	WaterBody Scope = "waterBody" // stands whose nearest stream has the row's name
	Unnamed   Scope = "unnamed"   // stands whose nearest stream has no name
	NoStream  Scope = "noStream"  // stands of a batch without streams

	InUnit       Scope = "unit"         // inside a reporting unit
	OutsideUnits Scope = "outsideUnits" // outside all reporting units

	NoStand Scope = "noStand" // control work on no known stand, in addition to the streams
	NoPlace Scope = "noPlace" // such work without a position, in addition to the units
)

// noStandName is the name of the rows for work on no known stand.
const noStandName = "no stand named"

// Sum is one row of the summary. Acres are in grains and are sums of the stands' exact areas.
// Kilometres are in units of 1e-4 and fragments in units of 1e-6, rounded as in the dictionary; they
// are sums of the printed figures of reaches and stands. All are integers, so the order of summing does
// not matter.
type Sum struct {
	Scope   Scope
	Name    string // of the water body or unit
	UnitID  string
	Quarter string

	Stands, Isolated, InZone            int
	Gross, Infested, Canopy, Zone       int64
	ByStatus                            [4]int64 // infested acres, by survey.Status
	ReachAtRisk, FloodReach             int64
	Released, Settled, Held, Aged, Left int64

	Margin rowMargin
	Change Parts // all 0 in the first batch of a chain
	Since  sinceLook
	Work   TreatmentSum // control work of the quarter
}

// Summarize returns the total first. Then comes one row for each water body that has a stand or a reach
// at risk, by name, and the rows for stands on streams without a name and for stands without a stream.
// If reporting units were given, then comes one row for each unit, in their order, and one for
// everything outside the units. The total's acres are rounded once for printing. Every column of the
// total is the sum of the stream rows, and also the sum of the unit rows; both are rounded by largest
// remainder to make this exact.
func Summarize(run *Run) []Sum {
	streams, units := sumStreams(run), sumUnits(run)
	total := Sum{Scope: Total, Quarter: run.Quarter.String()}
	for i := range streams {
		total.add(&streams[i])
	}
	if len(run.Stands) == 0 && run.Previous == nil {
		total.Since.look(run.Quarter, 0) // surveyed, with nothing found
	}
	if len(units) > 0 {
		run.inPrint(&total, streams, units)
	} else {
		run.inPrint(&total, streams)
	}
	return slices.Concat([]Sum{total}, streams, units)
}

// Live returns the infested acres, in grains, of stands that are untreated or resprouting.
func (s *Sum) Live() int64 { return s.ByStatus[survey.Untreated] + s.ByStatus[survey.Resprout] }

// live says whether a stand with a status counts as live.
func live(s survey.Status) bool { return s != survey.Treated && s != survey.StandingDead }

// units returns x in fixed point; 0 for NaN.
func units(x float64, u Unit) int64 {
	n, _ := scaled(x, u.Decimals())
	return n
}

// addStand adds everything about a stand except its acres: the stand itself and its fragments.
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

// addAcres adds the acres of a stand: all, or a unit's share.
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

// addReach adds kilometres to the reach of a water stage.
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

// add adds the figures of another row.
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

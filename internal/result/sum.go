package result

import (
	"driftreach/internal/allocate"
	"driftreach/internal/survey"
)

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

// Live returns the infested acres, in grains, of stands that are untreated or resprouting.
func (s *Sum) Live() int64 { return s.ByStatus[survey.Untreated] + s.ByStatus[survey.Resprout] }

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

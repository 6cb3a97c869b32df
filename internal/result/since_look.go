package result

import (
	"math/bits"

	"driftreach/internal/allocate"
	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// sinceLook is what became of ground since it was surveyed before this quarter, and when all of it was
// last surveyed. A trend adds up these changes, so that ground surveyed in turns counts and carried
// acres do not.
type sinceLook struct {
	change acreages                 // of ground surveyed this quarter and before
	looks  map[survey.Quarter]int64 // infested acres by quarter of the last survey
}

// look counts acres that were last surveyed in a quarter; 0 for a place where nothing is left.
func (s *sinceLook) look(q survey.Quarter, infested int64) {
	if s.looks == nil {
		s.looks = map[survey.Quarter]int64{}
	}
	s.looks[q] += infested
}

// add adds acreages: present ones with sign 1, previous ones with sign -1.
func (s *sinceLook) add(a acreages, sign int64) {
	for k := range a {
		s.change[k] += sign * a[k]
	}
}

// join adds another row.
func (s *sinceLook) join(o *sinceLook) {
	s.add(o.change, 1)
	for q, acres := range o.looks { // the order does not matter for sums
		s.look(q, acres)
	}
}

// levels returns a share's acreages, given the status of the stand.
func levels(a allocate.Share, status survey.Status) acreages {
	out := acreages{a.Gross, a.Infested, a.Canopy, a.Zone}
	switch status {
	case survey.Treated:
		out[4] = a.Infested
	case survey.StandingDead:
		out[5] = a.Infested
	}
	return out
}

// addNow adds a stand's present acres, all or a unit's share. parts is what they consist of. Acres on
// ground surveyed for the first time are no change.
func (s *sinceLook) addNow(run *Run, t *Stand, a allocate.Share, parts StandParts) {
	switch {
	case t.Change == lineage.NotResurveyed:
		s.look(t.CarriedFrom, a.Infested)
		return
	case t.Carried():
		s.look(t.CarriedFrom, a.Infested)
		s.add(levels(a, t.Status), 1)
		return
	case parts.Carried > 0:
		s.look(run.Previous.Quarter, parts.Carried)
	}
	s.look(run.Quarter, a.Infested-parts.Carried)
	if parts.FirstLooked > 0 {
		a = partOf(a, a.Infested-parts.FirstLooked)
	}
	s.add(levels(a, t.Status), 1)
}

// addBefore subtracts the acres that a known stand had, all or a unit's share, if its place was
// surveyed this quarter.
func (s *sinceLook) addBefore(run *Run, k int, a allocate.Share) {
	known := &run.Previous.Known[k]
	switch fate := run.Previous.Fates[k]; {
	case fate == lineage.NotResurveyed:
	case known.Absent && fate == lineage.NotDetected:
		s.look(run.Quarter, 0)
	case known.Absent:
	default:
		switch fate {
		case lineage.NotDetected:
			s.look(run.Quarter, a.Infested)
		case lineage.Misidentified: // known not to exist
			s.look(run.Quarter, 0)
		}
		s.add(levels(a, known.Status), -1)
	}
}

// knownAcres returns the acreages of a known stand, under the present rules.
func knownAcres(k *lineage.Known) allocate.Share {
	return allocate.Share{
		Gross: k.Gross.Grains(), Infested: k.InfestedAcres(), Canopy: k.Canopy.Grains(), Zone: k.Zone.Grains(),
	}
}

// partOf scales acreages to a part with the given infested acres.
func partOf(all allocate.Share, infested int64) allocate.Share {
	if all.Infested == 0 {
		return allocate.Share{}
	}
	part := func(n int64) int64 { // the product may not fit into 64 bits
		high, low := bits.Mul64(uint64(n), uint64(min(infested, all.Infested)))
		share, _ := bits.Div64(high, low, uint64(all.Infested))
		return int64(share)
	}
	return allocate.Share{Gross: part(all.Gross), Infested: infested, Canopy: part(all.Canopy), Zone: part(all.Zone)}
}

// quarterAcres are acres that belong to one quarter, as printed.
type quarterAcres struct {
	quarter survey.Quarter
	acres   Value
}

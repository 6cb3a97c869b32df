package result

import (
	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// StandParts is what a stand's infested acres are made of, in grains: Own +
// Carried is all of them.
type StandParts struct {
	Own         int64 // on records of this quarter
	Carried     int64 // on nothing but what nobody saw this quarter
	FirstLooked int64 // part of Own on ground never looked at before in the chain
	FoundAgain  int64 // part of Own that makes good what was once not detected
}

// Parts is how infested acres came from the batch before to this one, in grains:
// Previous + Restated + Observed + New + FoundAgain + FirstLooked -
// NotDetected is what there is now, exactly. Carried acres are in Previous and in
// what there is now; they are no change.
type Parts struct {
	Previous    int64 // of the batch before, as it printed them
	Restated    int64 // the same under the present settings, units and streams, less Previous
	Observed    int64 // growth less shrinking of stands known then and found now
	New         int64 // of stands on ground that was looked at before and held none
	FoundAgain  int64 // of stands of which acres were told not detected, up to those
	FirstLooked int64 // on ground that was never looked at before in the chain
	NotDetected int64 // last known acres of ground that was looked at where nothing of the stand was found
	Cleared     int64 // part of them last seen treated or standing dead
	Carried     int64 // last known acres of ground that nobody saw
}

// splitter splits a stand's parts between rows in proportion to its infested
// acres there. The shares add up to the stand's parts exactly, and no part of one is
// below 0.
type splitter struct {
	left StandParts // what later shares get
	rest int64      // infested acres of them
}

func newSplitter(t *Stand) *splitter {
	return &splitter{t.Parts, t.Parts.Own + t.Parts.Carried}
}

// next returns the parts of the next share, of so many infested acres.
func (s *splitter) next(infested int64) StandParts {
	parts := [3]*int64{&s.left.Carried, &s.left.FirstLooked, &s.left.FoundAgain}
	var got [3]int64
	other, otherLeft := infested, s.rest
	for i, left := range parts {
		if s.rest > 0 {
			got[i] = min(*left, max(0, other), int64(float64(*left)*float64(infested)/float64(s.rest)))
		}
		other, otherLeft = other-got[i], otherLeft-*left
	}
	for i, left := range parts { // rounding down left more than there is to other acres
		more := max(0, min(other-otherLeft, *left-got[i]))
		got[i], other = got[i]+more, other-more
		*left -= got[i]
	}
	s.rest -= infested
	return StandParts{Own: infested - got[0], Carried: got[0], FirstLooked: got[1], FoundAgain: got[2]}
}

// addStand adds infested acres of a stand of this batch, all or a unit's share.
func (p *Parts) addStand(r *Run, t *Stand, s StandParts) {
	p.Carried += s.Carried
	p.FirstLooked += s.FirstLooked
	p.FoundAgain += s.FoundAgain
	rest := s.Own + s.Carried - s.FirstLooked - s.FoundAgain
	switch {
	case t.Carried(): // what addKnown put there is still there
		p.NotDetected -= rest
		if clears(&r.Previous.Known[t.Parents[0]]) {
			p.Cleared -= rest
		}
	case len(t.Parents) > 0:
		p.Observed += rest
	default:
		p.New += rest
	}
}

// addKnown adds infested acres that a stand of the batch before has under the
// present rules, all or a unit's share, at the place it counts in now.
func (p *Parts) addKnown(known *lineage.Known, fate lineage.Change, infested int64) {
	p.Restated += infested
	if fate == "" {
		p.Observed -= infested
		return
	}
	p.NotDetected += infested // addStand takes off what of it is carried
	if clears(known) {
		p.Cleared += infested
	}
}

// addPrinted adds infested acres that the batch before printed.
func (p *Parts) addPrinted(infested int64) {
	p.Previous += infested
	p.Restated -= infested
}

// clears says whether a stand that is not found again counts as cleared.
func clears(known *lineage.Known) bool {
	return known.Status == survey.Treated || known.Status == survey.StandingDead
}

// add adds another row's parts.
func (p *Parts) add(o *Parts) {
	p.Previous += o.Previous
	p.Restated += o.Restated
	p.Observed += o.Observed
	p.New += o.New
	p.FoundAgain += o.FoundAgain
	p.FirstLooked += o.FirstLooked
	p.NotDetected += o.NotDetected
	p.Cleared += o.Cleared
	p.Carried += o.Carried
}

package result

import (
	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// splitter splits a stand's parts between rows in proportion to its infested acres in each. The shares
// add up exactly to the stand's parts, and no part of a share is negative.
type splitter struct {
	left StandParts // for later shares
	rest int64      // infested acres of later shares
}

func newSplitter(t *Stand) *splitter {
	return &splitter{t.Parts, t.Parts.Own + t.Parts.Carried}
}

// next returns the parts of the next share, which has the given infested acres.
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
	for i, left := range parts { // rounding down left more acres than the other parts can take
		more := max(0, min(other-otherLeft, *left-got[i]))
		got[i], other = got[i]+more, other-more
		*left -= got[i]
	}
	s.rest -= infested
	return StandParts{Own: infested - got[0], Carried: got[0], FirstLooked: got[1], FoundAgain: got[2]}
}

// addStand adds infested acres of a stand of this batch: all, or a unit's share.
func (p *Parts) addStand(r *Run, t *Stand, s StandParts) {
	p.Carried += s.Carried
	p.FirstLooked += s.FirstLooked
	p.FoundAgain += s.FoundAgain
	rest := s.Own + s.Carried - s.FirstLooked - s.FoundAgain
	switch {
	case t.Carried(): // the part that addKnown counted as not detected is still there
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

// addKnown adds the infested acres, under the present rules, of a stand of the previous batch: all, or
// a unit's share. It adds them where the stand counts now.
func (p *Parts) addKnown(known *lineage.Known, fate lineage.Change, infested int64) {
	p.Restated += infested
	if fate == "" {
		p.Observed -= infested
		return
	}
	p.NotDetected += infested // addStand subtracts what is carried of these
	if clears(known) {
		p.Cleared += infested
	}
}

// addPrinted adds infested acres that the previous batch printed.
func (p *Parts) addPrinted(infested int64) {
	p.Previous += infested
	p.Restated -= infested
}

// clears says whether a stand that is not found again counts as cleared.
func clears(known *lineage.Known) bool {
	return known.Status == survey.Treated || known.Status == survey.StandingDead
}

// add adds the parts of another row.
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

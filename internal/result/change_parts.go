package result

import (
	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// Parts is how infested acres came from the batch before to this one, in grains: Previous + Observed + New - NotDetected is what there is now,
// exactly. Carried acres are in Previous and in what there is now; they are no
// change.
type Parts struct {
	Previous    int64 // of the batch before
	Observed    int64 // growth less shrinking of stands known then and found now
	New         int64 // of stands that were none of it: new ones and those found again
	NotDetected int64 // last known acres of its stands that were looked for and not found
	Cleared     int64 // part of them last seen treated or standing dead
	Carried     int64 // last known acres of its stands that nobody went to
}

// addStand adds infested acres of a stand of this batch, all or a unit's share.
func (p *Parts) addStand(r *Run, t *Stand, infested int64) {
	_, known := r.before(t)
	switch {
	case t.Carried():
		p.Previous += infested
		p.Carried += infested
	case known:
		p.Observed += infested
	default:
		p.New += infested
	}
}

// addKnown adds infested acres of a stand of the batch before, all or a unit's
// share. Stands not detected then, and those carried, which addStand counts, add
// nothing.
func (p *Parts) addKnown(known *lineage.Known, fate lineage.Change, infested int64) {
	if known.Absent || fate == lineage.NotResurveyed {
		return
	}
	p.Previous += infested
	if fate == lineage.NotDetected {
		p.NotDetected += infested
		if known.Status == survey.Treated || known.Status == survey.StandingDead {
			p.Cleared += infested
		}
	} else {
		p.Observed -= infested
	}
}

// add adds another row's parts.
func (p *Parts) add(o *Parts) {
	p.Previous += o.Previous
	p.Observed += o.Observed
	p.New += o.New
	p.NotDetected += o.NotDetected
	p.Cleared += o.Cleared
	p.Carried += o.Carried
}

package result

import "driftreach/internal/apportion"

// sumUnits returns a row for every reporting unit, in their order, and then one
// for what lies outside all of them; nothing when no units were given. Acres and
// reach go where they lie; a stand as one, and its fragments, count in the unit
// most of its infested acres lie in; the acres of the batch before count where they
// lay then.
func sumUnits(run *Run) []Sum {
	if len(run.Units) == 0 {
		return nil
	}
	rows := make([]Sum, len(run.Units)+1)
	quarter := run.Quarter.String()
	for i := range run.Units {
		rows[i] = Sum{Scope: InUnit, Name: run.unitName(int32(i)), UnitID: run.Units[i].ID, Quarter: quarter}
	}
	rows[len(run.Units)] = Sum{Scope: OutsideUnits, Quarter: quarter}
	of := func(unit int32) *Sum {
		if unit == apportion.Outside {
			return &rows[len(run.Units)]
		}
		return &rows[unit]
	}
	for i := range run.Stands {
		t := &run.Stands[i]
		of(apportion.MainShare(t.Shares)).addStand(t)
		for _, share := range t.Shares {
			s := of(share.Unit)
			s.addAcres(t, share)
			s.Since.addNow(run, t, share)
			if run.Previous != nil {
				s.Change.addStand(run, t, share.Infested)
			}
		}
	}
	if run.Previous != nil {
		for k := range run.Previous.Known {
			all := knownAcres(&run.Previous.Known[k])
			for _, share := range run.Previous.Shares[k] {
				of(share.Unit).Since.addBefore(run, k, partOf(all, share.Infested))
			}
			for _, share := range run.Previous.Shares[k] {
				of(share.Unit).Change.addKnown(&run.Previous.Known[k], run.Previous.Fates[k], share.Infested)
			}
		}
	}
	for i := range run.Reaches {
		if !run.Reaches[i].Class.AtRisk() {
			continue
		}
		for _, l := range run.ReachShares[i] {
			of(l.Unit).addReach(run.Reaches[i].Stage, l.Km)
		}
	}
	return rows
}

package result

import (
	"driftreach/internal/allocate"
	"driftreach/internal/lineage"
)

// now returns this quarter's changes: what each stand now adds to the rows of the summary, less what
// the stands it continues had. For a stand that is gone, it is minus what it had.
func (k *ancestry) now() []LookChange {
	run, rows := k.run, unitRows(k.run)
	var out []LookChange
	for i := range run.Stands {
		t := &run.Stands[i]
		count := func(row Sum, a allocate.Share, parts StandParts) {
			var s sinceLook
			s.addNow(run, t, a, parts)
			out = append(out, k.change(int32(i), t.ID, row, s.change))
		}
		count(streamRow(run, t.Zone.Line), wholeAcres(t), t.Parts)
		parts := newSplitter(t)
		for _, share := range t.Shares {
			count(*rows.at(share.Unit), share, parts.next(share.Infested))
		}
	}
	for at := range run.Previous.Known {
		if run.Previous.Fates[at] == lineage.NotResurveyed {
			continue
		}
		known, home := &run.Previous.Known[at], run.Previous.Home[at]
		id, row, all := known.ID, knownRow(run, known.StreamID, known.WaterBody), knownAcres(known)
		if home >= 0 {
			id, row = run.Stands[home].ID, streamRow(run, run.Stands[home].Zone.Line)
		}
		count := func(row Sum, a allocate.Share) {
			var s sinceLook
			s.addBefore(run, at, a)
			out = append(out, k.change(home, id, row, s.change))
		}
		count(row, all)
		if len(run.Previous.Shares) > 0 {
			for _, share := range run.Previous.Shares[at] {
				count(*rows.at(share.Unit), partOf(all, share.Infested))
			}
		}
	}
	return out
}

// change makes a change of the stand at index i; -1 for a stand that is gone.
func (k *ancestry) change(i int32, id string, row Sum, acres acreages) LookChange {
	return LookChange{
		StandID: id, Quarter: k.run.Quarter, Scope: row.Scope, Name: row.Name, UnitID: row.UnitID,
		Shared: i >= 0 && k.several(i), acres: acres,
	}
}

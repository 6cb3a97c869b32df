package result

import (
	"driftreach/internal/allocate"
	"driftreach/internal/lineage"
)

// sumUnits returns one row for each reporting unit, in their order, and then one for everything outside
// the units; nothing if no units were given. Acres and reach count in the unit where they are. A stand
// (as a number) and its fragments count in the unit with most of its infested acres. The previous
// batch's acres count where they were then. Control work without a position comes last.
func sumUnits(run *Run) []Sum {
	if len(run.Units) == 0 {
		return nil
	}
	rows := unitRows(run)
	of := rows.at
	for i := range run.Stands {
		t := &run.Stands[i]
		of(allocate.MainShare(t.Shares)).addStand(t)
		parts := newSplitter(t)
		for _, share := range t.Shares {
			s, part := of(share.Unit), parts.next(share.Infested)
			s.addAcres(t, share)
			s.Since.addNow(run, t, share, part)
			s.Margin.addStand(t, share, part)
			if run.Previous != nil {
				s.Change.addStand(run, t, part)
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
	unknown := unitWork(run, of)
	rows = addKnownUnits(rows, run, of)
	if unknown.Work.Treatments > 0 {
		rows = append(rows, unknown)
	}
	return rows
}

// unitSums are the rows of the reporting units, and after them the row for everything outside.
type unitSums []Sum

// unitRows returns these rows without figures; nothing if no units were given.
func unitRows(run *Run) unitSums {
	if len(run.Units) == 0 {
		return nil
	}
	rows := make(unitSums, len(run.Units)+1)
	quarter := run.Quarter.String()
	for i := range run.Units {
		rows[i] = Sum{Scope: InUnit, Name: run.unitName(int32(i)), UnitID: run.Units[i].ID, Quarter: quarter}
	}
	rows[len(run.Units)] = Sum{Scope: OutsideUnits, Quarter: quarter}
	return rows
}

// at returns the row of a unit, or of allocate.Outside.
func (rows unitSums) at(unit int32) *Sum {
	if unit == allocate.Outside {
		return &rows[len(rows)-1]
	}
	return &rows[unit]
}

// addKnownUnits adds the stands of the previous batch: what they have in the present units, and what
// that batch printed by unit if its units were different. It adds a row for each unit that no longer
// exists.
func addKnownUnits(rows []Sum, run *Run, of func(unit int32) *Sum) []Sum {
	if run.Previous == nil {
		return rows
	}
	for k, shares := range run.Previous.Shares {
		known := &run.Previous.Known[k]
		all := knownAcres(known)
		then := thenShares(run.Previous.Then[k].Infested, run.Previous.Restated[k], shares)
		for i, share := range shares {
			s := of(share.Unit)
			s.Since.addBefore(run, k, partOf(all, share.Infested))
			if known.Absent {
				continue
			}
			s.Change.addKnown(known, run.Previous.Fates[k], share.Infested)
			s.Margin.addKnown(run.Previous, k, share.Infested)
			if run.Previous.Printed == nil && known.Was == nil { // the previous batch had no units, or the same ones
				s.Change.addPrinted(then[i])
			}
		}
	}
	for k, shares := range run.Previous.Was {
		for _, share := range shares {
			if run.Previous.Fates[k] == lineage.Misidentified {
				of(share.Unit).Since.look(run.Quarter, 0)
			}
		}
	}
	if run.Previous.Printed == nil {
		for _, shares := range run.Previous.Was {
			for _, share := range shares {
				of(share.Unit).Change.addPrinted(share.Infested)
			}
		}
	}
	at := make(map[string]int, len(rows))
	for i := range rows {
		at[string(rows[i].Scope)+"\x00"+rows[i].UnitID] = i
	}
	left := int64(0) // difference due to rounding of the printed rows; it is added to the largest row
	for k := range run.Previous.Then {
		left += run.Previous.Then[k].Infested
	}
	largest := 0
	for k, u := range run.Previous.Printed {
		left -= u.Infested
		if u.Infested > run.Previous.Printed[largest].Infested {
			largest = k
		}
	}
	for k, u := range run.Previous.Printed {
		if k == largest {
			u.Infested += left
		}
		key := string(u.Scope) + "\x00" + u.ID
		i, there := at[key]
		if !there {
			i = len(rows)
			rows, at[key] = append(rows, Sum{Scope: u.Scope, Name: u.Name, UnitID: u.ID, Quarter: run.Quarter.String()}), i
		}
		rows[i].Change.addPrinted(u.Infested)
	}
	return rows
}

// thenShares splits a stand's acres in the previous batch in proportion to its acres under the present
// rules. The first share absorbs the rounding.
func thenShares(then, restated int64, shares []allocate.Share) []int64 {
	out := make([]int64, len(shares))
	left := then
	for i := len(shares) - 1; i > 0; i-- {
		out[i] = partOf(allocate.Share{Infested: restated, Gross: then}, shares[i].Infested).Gross
		left -= out[i]
	}
	if len(out) > 0 {
		out[0] = left
	}
	return out
}

// unitWork adds the quarter's work to the rows of reporting units: work on a stand by the stand's
// shares, other work by its position. It returns a row with the work that has no position.
func unitWork(run *Run, of func(unit int32) *Sum) Sum {
	unknown := Sum{Scope: NoPlace, Name: noStandName, Quarter: run.Quarter.String()}
	for i := range run.Treatments {
		j := &run.Treatments[i]
		switch {
		case !run.counts(j):
		case len(j.On) == 0 && j.Unit == UnknownUnit:
			unknown.Work.addTreatment(j)
			unknown.Work.addAcres(j, run.treatmentAcres(j))
		case len(j.On) == 0:
			of(j.Unit).Work.addTreatment(j)
			of(j.Unit).Work.addAcres(j, run.treatmentAcres(j))
		default:
			run.unitShares(j, of)
		}
	}
	return unknown
}

// unitShares adds a treatment to the reporting units of its stands.
func (r *Run) unitShares(j *Treatment, of func(unit int32) *Sum) {
	most, main := int64(-1), allocate.Outside
	for k, acres := range r.grounds(j) {
		shares := r.unitsOf(j, j.On[k])
		weights := make([]int64, len(shares))
		for i := range shares {
			weights[i] = shares[i].Infested
		}
		for i, part := range r.divided(acres, weights) {
			of(shares[i].Unit).Work.addAcres(j, part)
			if part > most {
				most, main = part, shares[i].Unit
			}
		}
	}
	of(main).Work.addTreatment(j)
}

// largest returns the index of the largest amount; the first of equal ones.
func largest(amounts []int64) int {
	at := 0
	for k := range amounts {
		if amounts[k] > amounts[at] {
			at = k
		}
	}
	return at
}

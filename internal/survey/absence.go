package survey

import (
	"cmp"
	"fmt"
	"slices"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// Worked says whether control work was done at a find in a range of days, both ends included.
type Worked func(find *Record, from, to Day) bool

// Settled is the result of SettleAbsences.
type Settled struct {
	Records  []Record // kept, in their order
	Findings []check.Finding
	Aside    []Aside // finds set aside, by file
}

// SettleAbsences compares each find with absences at the same place, as far as the uncertainty of
// positions shows: records that nothing was detected there on a later day, or on the same day by
// another observer. The plant does not vanish within weeks, and a second observer may miss it. So the
// find is kept, with a finding. If control work was done there from the day of the find to a later day
// of the absence, the find is set aside, with a finding. It takes the slice over. The cost is that of
// comparing each find with the records around it.
func SettleAbsences(records []Record, worked Worked, o Options) Settled {
	c := newChecker(o)
	absences := c.absences(records)
	if absences == nil {
		return Settled{Records: records}
	}
	gone := make([]bool, len(records))
	for i := range records {
		find := &records[i]
		if !find.Detected {
			continue
		}
		a := c.latest(records, absences, find)
		if a == nil {
			continue
		}
		away := fmt.Sprintf("%.0f m away %s says that nothing was detected on %s", float64(earth.Distance(a.Position, find.Position)), a.Name(), a.End)
		if !find.Begin.IsZero() && a.End > find.End && worked(find, find.Begin, a.End) {
			gone[i] = true
			c.aside[find.File]++
			c.Report(find, ruleGoneAfter, "eventDate", seen(find), away+", and control work was done there in between; the find was set aside")
			continue
		}
		c.Report(find, ruleFindStays, "eventDate", seen(find), away+", and no control work between is known; the find stays")
	}
	kept := records[:0]
	for i := range records {
		if !gone[i] {
			kept = append(kept, records[i])
		}
	}
	clear(records[len(kept):])
	return Settled{kept, c.Findings(), c.asides()}
}

// absences returns the records that detect nothing, on a grid, with the latest of each cell first; nil
// if there are none.
func (c *checker) absences(records []Record) *earth.Grid {
	var absent []int32
	for i := range records {
		if !records[i].Detected && !records[i].End.IsZero() {
			absent = append(absent, int32(i))
		}
	}
	if len(absent) == 0 {
		return nil
	}
	slices.SortStableFunc(absent, func(a, b int32) int { return cmp.Compare(records[b].End, records[a].End) })
	grid := earth.NewGrid(c.options.farthestAgreed(records))
	for _, i := range absent {
		grid.Add(i, records[i].Position)
	}
	return grid
}

// latest returns the latest absence that contradicts a find and whose position agrees; of equally late
// ones the first by id; nil if there is none.
func (c *checker) latest(records []Record, absences *earth.Grid, find *Record) *Record {
	best := int32(-1)
	absences.Near(find.Position, func(i int32) bool {
		a := &records[i]
		if !against(a, find) || best >= 0 && cmp.Or(cmp.Compare(a.End, records[best].End), cmp.Compare(best, i)) <= 0 {
			return true
		}
		if c.options.agree(a, find) {
			best = i
		}
		return true
	})
	if best < 0 {
		return nil
	}
	return &records[best]
}

// against says whether an absence contradicts a find: it is later, or by another observer on the same
// day. On the same day the same observer may only have noted where the plants end.
func against(absence, find *Record) bool {
	return absence.End > find.End || absence.End == find.End && absence.Told().RecordedBy != find.Told().RecordedBy
}

package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
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
	gone, out := settle(Records{Listed: records}, worked, o)
	out.Records = records
	if gone != nil {
		out.Records = records[:0]
		for i := range records {
			if !gone[i] {
				out.Records = append(out.Records, records[i])
			}
		}
		clear(records[len(out.Records):])
	}
	return out
}

// SettleKept does what SettleAbsences does for records that are not in memory, whose absences are held in
// 40 bytes each. The result has no records: gone says which were set aside; nil for none.
func SettleKept(records *Kept, worked Worked, o Options) (gone []bool, out Settled) {
	return settle(Records{Kept: records}, worked, o)
}

func settle(records Records, worked Worked, o Options) (gone []bool, out Settled) {
	c := newChecker(o)
	absences := c.absences(records)
	if absences == nil {
		return nil, Settled{}
	}
	for i := range records.Len() {
		find := records.Glance(i)
		if !find.Detected {
			continue
		}
		a := c.latest(absences, &find, records, i)
		if a == nil {
			continue
		}
		r := records.At(i)
		away := fmt.Sprintf("record %s, %.0f m away, says that nothing was detected on %s", records.At(int(a.record)).Name(), float64(earth.Distance(a.at, r.Position)), a.end)
		if !r.Begin.IsZero() && a.end > r.End && worked(r, r.Begin, a.end) {
			if gone == nil {
				gone = make([]bool, records.Len())
			}
			gone[i] = true
			c.aside[r.File]++
			c.Report(r, ruleGoneAfter, "eventDate", seen(r), away+", and control work was done there in between; the find was set aside")
			continue
		}
		c.Report(r, ruleFindStays, "eventDate", seen(r), away+", and no control work between is known; the find stays")
	}
	return gone, Settled{Findings: c.Findings(), Aside: c.asides()}
}

// absence is a record that detects nothing.
type absence struct {
	at     orb.Point
	within geo.Meters
	end    Day
	by     int32 // number of the observer
	record int32
}

// absentees are the records that detect nothing, on a grid, with the latest of each cell first.
type absentees struct {
	all  []absence
	grid *earth.Grid
	by   map[string]int32 // observers
}

// absences returns the records that detect nothing; nil if there are none.
func (c *checker) absences(records Records) *absentees {
	out := &absentees{by: map[string]int32{}}
	finds, others := geo.Meters(0), geo.Meters(0) // the largest uncertainties
	for i := range records.Len() {
		g := records.Glance(i)
		within := c.options.within(g.Uncertainty)
		if g.Detected {
			finds = max(finds, within)
			continue
		}
		others = max(others, within)
		if g.End.IsZero() {
			continue
		}
		name := records.At(i).RecordedBy()
		by, known := out.by[name]
		if !known {
			by = int32(len(out.by))
			out.by[name] = by
		}
		out.all = append(out.all, absence{g.Position, within, g.End, by, int32(i)})
	}
	if len(out.all) == 0 {
		return nil
	}
	slices.SortStableFunc(out.all, func(a, b absence) int { return cmp.Compare(b.end, a.end) })
	out.grid = earth.NewGrid(finds + others) // the farthest at which two of them may be at the same place
	for i := range out.all {
		out.grid.Add(int32(i), out.all[i].at)
	}
	return out
}

// latest returns the latest absence that contradicts a find and whose position agrees; of equally late
// ones the first by id; nil if there is none. An absence contradicts a find if it is later, or by another
// observer on the same day. On the same day the same observer may only have noted where the plants end.
func (c *checker) latest(absences *absentees, find *Glance, records Records, at int) *absence {
	var best *absence
	by := int32(-1) // not asked for yet
	within := c.options.within(find.Uncertainty)
	absences.grid.Near(find.Position, func(i int32) bool {
		a := &absences.all[i]
		sameDay := a.end == find.End
		switch {
		case a.end < find.End, sameDay && a.by == by, best != nil && cmp.Or(cmp.Compare(a.end, best.end), cmp.Compare(best.record, a.record)) <= 0,
			!(earth.Distance(a.at, find.Position) <= a.within+within):
			return true
		}
		if sameDay && by < 0 {
			if by = absences.observer(records.At(at)); a.by == by {
				return true
			}
		}
		best = a
		return true
	})
	return best
}

// observer returns the number of a record's observer; one of its own for who noted no absence.
func (a *absentees) observer(r *Record) int32 {
	if by, known := a.by[r.RecordedBy()]; known {
		return by
	}
	return math.MaxInt32
}

package survey

import (
	"cmp"
	"fmt"
	"slices"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// settle says which of the records with the same id are kept. If their positions agree, they show the
// same plant, and the newest is kept; otherwise all are. Finds come before absences.
func (c *checker) settle(records []Record, alike []int) []int {
	stay := c.newest(records, alike)
	slices.SortStableFunc(stay, func(a, b int) int { return geo.CompareBools(records[b].Detected, records[a].Detected) })
	return stay
}

// newest sets aside records of a plant that was recorded again on a later day. Two records on the same
// day are kept: they are more likely two plants, one with a wrong id. An older find is not set aside
// for a newer absence, which is the task of SettleAbsences.
func (c *checker) newest(records []Record, alike []int) []int {
	var looks []int
	for _, index := range alike {
		if !c.Made(index) && !records[index].End.IsZero() {
			looks = append(looks, index)
		}
	}
	if len(looks) < 2 || c.options.Quarter.IsZero() { // without a quarter no record is the newest
		return alike
	}
	slices.SortStableFunc(looks, func(a, b int) int { return cmp.Compare(records[b].End, records[a].End) })
	reach := geo.Meters(0)
	for _, index := range looks {
		reach = max(reach, 2*c.options.uncertainty(&records[index]))
	}
	kept, aside := earth.NewGrid(reach), map[int]bool{}
	for _, index := range looks {
		r, later := &records[index], (*Record)(nil)
		kept.Near(r.Position, func(k int32) bool {
			if other := &records[k]; r.End < other.End && (other.Detected || !r.Detected) && c.options.agree(r, other) {
				later = other
			}
			return later == nil
		})
		if later == nil {
			kept.Add(int32(index), r.Position)
			continue
		}
		aside[index] = true
		c.aside[r.File]++
		c.Report(r, ruleSeenAgain, "eventDate", seen(r), fmt.Sprintf("the same id was looked at again, %s, at a place that agrees within the positions' uncertainty; this look was set aside", seen(later)))
	}
	return slices.DeleteFunc(alike, func(index int) bool { return aside[index] })
}

// seen says in words when a record was made.
func seen(r *Record) string {
	if r.Begin.IsZero() {
		return "on a day not known"
	}
	return dayOrDays(r.Begin, r.End)
}

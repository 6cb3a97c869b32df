package restated

import (
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/earlier"
	"driftreach/internal/lineage"
	"driftreach/internal/observed"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// corrector applies corrections one by one, in order of date.
type corrector struct {
	in         observed.Quarter
	before     *earlier.Batch
	rules      settings.Stages
	log        check.Log
	alias      map[string]string // by stand id: the stand it was joined to
	added      []lineage.Known   // stands split from other stands
	splits     map[string]int    // by stand id: index in added of the stand split from it
	gone       map[int32]bool    // records of this quarter that are removed
	aside      map[string]int    // by file: their number
	lost       map[string]int    // by file: number of rows that were not applied
	records    map[string]int32  // by id: index of each record of the previous batch
	holds      []int32           // by record of the previous batch: the known stand that contains it; -1 for none
	changes    map[string][]int  // by stand id: indices in the previous batch's LookChanges
	finds      *byLatitude       // finds of this quarter
	stands     *byLatitude       // known stands, with their extents before corrections
	wider      []int32           // known stands that other stands were joined to
	reachMoved bool              // earlier reach depends on something that was wrong
	stood      bool              // records were added to those of the previous batch
}

// known returns the previous batch's stand with the given id, or the stand that this one was joined
// to; nil for none.
func (c *corrector) known(id string) *lineage.Known {
	asked := id
	for range len(c.alias) + 1 {
		other, there := c.alias[id]
		if !there {
			break
		}
		id = other
	}
	if id != asked {
		c.alias[asked] = id
	}
	if c.before == nil {
		return nil
	}
	if k := standAt(c.before.Known, id); k >= 0 {
		return &c.before.Known[k]
	}
	return nil
}

// standAt returns the index of a stand in a list sorted by id; -1 if there is none, or if a correction
// removed it.
func standAt(known []lineage.Known, id string) int32 {
	k, there := slices.BinarySearchFunc(known, id, func(k lineage.Known, id string) int { return strings.Compare(k.ID, id) })
	if !there || known[k].Out != "" {
		return -1
	}
	return int32(k)
}

// find returns the index of this quarter's record with the id; -1 for none.
func (c *corrector) find(id string) int32 { return recordAt(c.in.Records.Listed, id) }

// recordAt returns the index of a record in a list sorted by id; -1 for none.
func recordAt(records []survey.Record, id string) int32 {
	i, there := slices.BinarySearchFunc(records, id, func(r survey.Record, id string) int { return strings.Compare(r.ID, id) })
	if !there {
		return -1
	}
	return int32(i)
}

// takeOut sets a record of this quarter aside because of a row.
func (c *corrector) takeOut(row *correction.Correction, i int32) {
	if r := &c.in.Records.Listed[i]; !c.gone[i] {
		c.gone[i] = true
		c.aside[r.File]++
		if !slices.Contains(row.Records, r.ID) {
			row.Records = append(row.Records, r.ID)
		}
	}
}

// earlyEnough says whether a row can be about a record: the record is not dated after the row. A record
// without a date is of this quarter.
func earlyEnough(row *correction.Correction, r *survey.Record, fresh bool) bool {
	if r.End.IsZero() {
		return fresh
	}
	return r.End <= survey.DayOf(row.Date)
}

// dayOfRecord formats the day of a record.
func dayOfRecord(r *survey.Record) string {
	if r.End.IsZero() {
		return "a day not known"
	}
	return r.End.String()
}

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

// corrector applies corrections one by one, the earliest first.
type corrector struct {
	in         observed.Quarter
	before     *earlier.Batch
	rules      settings.Stages
	log        check.Log
	alias      map[string]string // by stand id: the one it is the same as
	added      []lineage.Known   // stands made of parts of others
	splits     map[string]int    // by stand id: which of them is made of parts of it
	gone       map[int32]bool    // records of this quarter that are taken out
	aside      map[string]int    // by file: how many of them
	lost       map[string]int    // by file: rows that were not applied
	records    map[string]int32  // by id: the records of the batch before
	holds      []int32           // by record of the batch before: the known stand that holds it, -1 for none
	changes    map[string][]int  // by stand id: places in the batch before's LookChanges
	finds      *byLatitude       // of this quarter
	stands     *byLatitude       // known, as they were at first
	wider      []int32           // known stands that others were joined to
	reachMoved bool              // reach that was told before rests on what was wrong
	stood      bool              // records were added to those of the batch before
}

// known returns the stand of the batch before that goes by an id, nil for none.
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

// standAt returns the place of the known stand of an id, among those sorted by id; -1
// for none, and for one that a correction took out.
func standAt(known []lineage.Known, id string) int32 {
	k, there := slices.BinarySearchFunc(known, id, func(k lineage.Known, id string) int { return strings.Compare(k.ID, id) })
	if !there || known[k].Out != "" {
		return -1
	}
	return int32(k)
}

// find returns the place of this quarter's record of an id; -1 for none.
func (c *corrector) find(id string) int32 { return recordAt(c.in.Records, id) }

// recordAt returns the place of the record of an id, among those sorted by id; -1 for
// none.
func recordAt(records []survey.Record, id string) int32 {
	i, there := slices.BinarySearchFunc(records, id, func(r survey.Record, id string) int { return strings.Compare(r.ID, id) })
	if !there {
		return -1
	}
	return int32(i)
}

// takeOut sets a record of this quarter aside, for a row that says its word of it.
func (c *corrector) takeOut(row *correction.Correction, i int32) {
	if r := &c.in.Records[i]; !c.gone[i] {
		c.gone[i] = true
		c.aside[r.File]++
		if !slices.Contains(row.Records, r.ID) {
			row.Records = append(row.Records, r.ID)
		}
	}
}

// earlyEnough says whether a row may speak of a record: it is not of a later day. What
// has no date is of this quarter.
func earlyEnough(row *correction.Correction, r *survey.Record, fresh bool) bool {
	if r.End.IsZero() {
		return fresh
	}
	return r.End <= survey.DayOf(row.Date)
}

// dayOfRecord writes the day of a record.
func dayOfRecord(r *survey.Record) string {
	if r.End.IsZero() {
		return "a day not known"
	}
	return r.End.String()
}

// Package restated is what was observed, and the batch before, as corrections have them:
// records that were look-alikes set aside, stands withdrawn, put back, joined or parted,
// and what they counted taken back.
package restated

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/earlier"
	"driftreach/internal/lineage"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// Apply applies corrections: to this quarter's records, to the stands of the batch
// before, and to what stands mapped later may be linked to. Those that an earlier batch
// of the chain took up stand in its figures already: of them only what concerns records
// and links of this quarter is done again. The rows that count, with what each did,
// are the Observed's corrections afterwards. Without a batch before p is nil.
func Apply(in observed.Quarter, p *earlier.Batch, taken []correction.Correction, rules settings.Stages) observed.Quarter {
	all, findings := correction.Join(taken, in.Corrections)
	c := corrector{in: in, before: p, rules: rules, alias: map[string]string{}, splits: map[string]int{}, gone: map[int32]bool{}, aside: map[string]int{}, lost: map[string]int{}}
	for i := range all {
		c.apply(&all[i])
	}
	stay := make(map[correction.Content]bool, len(all))
	for i := range all {
		stay[all[i].Content()] = true
	}
	for i := range in.Corrections { // those that Join left out
		if fresh := &in.Corrections[i]; !stay[fresh.Content()] {
			c.lost[fresh.File]++
		}
	}
	c.finish()
	if c.reachMoved {
		p.ReachApart = append(p.ReachApart, reachCorrected)
	}
	in = c.in
	in.Corrections = slices.DeleteFunc(all, func(k correction.Correction) bool { return k.Taken == "" })
	in.Findings = check.Join(in.Findings, findings, c.log.Findings())
	in.Files = slices.Clone(in.Files)
	var aside []survey.Aside
	for file, n := range c.aside { // sums by file
		aside = append(aside, survey.Aside{File: file, Records: n})
	}
	in.SetAside(aside)
	for i := range in.Files {
		if f := &in.Files[i]; f.Role == "corrections" {
			n := min(c.lost[f.Name], f.Accepted)
			f.Accepted, f.Rejected = f.Accepted-n, f.Rejected+n
		}
	}
	return in
}

// reachCorrected says that reach does not compare because look-alikes, or looks that
// were wrong, are in what was told before.
const reachCorrected = "corrections"

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

// apply applies one row, or what of it concerns this quarter when it was taken up
// before.
func (c *corrector) apply(row *correction.Correction) {
	fresh := row.Taken == ""
	done := false
	switch row.Kind {
	case correction.Misidentified:
		done = c.misidentified(row, fresh)
	case correction.AbsenceWrong:
		done = c.absenceWrong(row, fresh)
	case correction.SameStand:
		done = c.sameStand(row, fresh)
	case correction.NotSameStand:
		done = c.notSameStand(row, fresh)
	}
	switch {
	case fresh && done:
		row.Taken = c.in.Quarter.String()
		c.log.Add(row.Applied(row.Effect))
	case fresh:
		c.lost[row.File]++
	}
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

// absenceWrong withdraws a record that found nothing, or puts a stand that was not
// detected back as it was last known.
func (c *corrector) absenceWrong(row *correction.Correction, fresh bool) bool {
	if row.RecordID != "" {
		i := c.find(row.RecordID)
		switch {
		case i < 0 && fresh:
			c.log.Add(row.Unknown("occurrenceID", row.RecordID))
		case i < 0:
		case c.in.Records[i].Detected && fresh:
			c.log.Add(row.WithoutEffect("the record is a find"))
		case c.in.Records[i].Detected:
		case !earlyEnough(row, &c.in.Records[i], fresh):
			c.log.Add(row.Later(row.RecordID, dayOfRecord(&c.in.Records[i])))
		default:
			c.takeOut(row, i)
			row.Effect = fmt.Sprintf("record %s found nothing and was wrong: it was set aside", row.RecordID)
			return true
		}
		return false
	}
	known := c.known(row.StandID)
	switch {
	case known == nil && fresh:
		c.log.Add(row.Unknown("stand_id", row.StandID))
		return false
	case known == nil:
		return false
	case known.Absent && fresh && row.Date.Before(known.Since.Begin()):
		c.log.Add(row.WithoutEffect(fmt.Sprintf("stand %s is not detected since %s, which is later", known.ID, known.Since)))
		return false
	case known.Absent && fresh:
		c.restore(known)
		row.Effect = fmt.Sprintf("stand %s stands again as last known in %s: %s acres restated", known.ID, known.Quarter, result.InAcres(known.InfestedAcres()))
	case fresh && !row.Date.After(c.before.Quarter.End()):
		c.log.Add(row.WithoutEffect(fmt.Sprintf("stand %s is on the map of %s", known.ID, c.before.Quarter)))
		return false
	default:
		row.Effect = fmt.Sprintf("looks at stand %s that found nothing up to that day do not count", known.ID)
	}
	if known.Missed.Before(row.Date) {
		known.Missed = row.Date
	}
	return true
}

// finish puts records and stands back in order.
func (c *corrector) finish() {
	if len(c.gone) > 0 {
		kept := make([]survey.Record, 0, len(c.in.Records)-len(c.gone))
		for i := range c.in.Records {
			if !c.gone[int32(i)] {
				kept = append(kept, c.in.Records[i])
			}
		}
		c.in.Records = kept
	}
	if c.before == nil {
		return
	}
	then := make(map[string]result.Then, len(c.before.Known))
	for k := range c.before.Known {
		then[c.before.Known[k].ID] = c.before.Then[k]
	}
	c.before.Known = append(c.before.Known, c.added...)
	slices.SortStableFunc(c.before.Known, func(a, b lineage.Known) int { return strings.Compare(a.ID, b.ID) })
	c.before.Then = make([]result.Then, len(c.before.Known))
	for k := range c.before.Known {
		id := c.before.Known[k].ID
		if _, printed := then[id]; !printed { // nothing of it, on the stream where it lies
			then[id] = result.Then{StreamID: c.before.Known[k].StreamID, WaterBody: c.before.Known[k].WaterBody}
		}
		c.before.Then[k] = then[id]
	}
	if c.stood {
		sortRecords(c.before)
	}
}

// sortRecords puts the records in the order of their ids.
func sortRecords(p *earlier.Batch) {
	order := make([]int32, len(p.Records))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortStableFunc(order, func(a, b int32) int { return strings.Compare(p.Records[a].ID, p.Records[b].ID) })
	records, from, place := make([]survey.Record, len(order)), make([]survey.Quarter, len(order)), make([]int32, len(order))
	for at, i := range order {
		place[i] = int32(at)
		records[at], from[at] = p.Records[i], p.From[i]
	}
	p.Records, p.From = records, from
	for k := range p.Known {
		for i, m := range p.Known[k].Members {
			p.Known[k].Members[i] = place[m]
		}
		slices.Sort(p.Known[k].Members)
	}
}

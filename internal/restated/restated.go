// Package restated applies corrections to the input and to the previous batch: records that were
// look-alikes are set aside, stands are withdrawn, restored, joined or split, and what they added to
// earlier changes is taken back.
package restated

import (
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/earlier"
	"driftreach/internal/intake"
	"driftreach/internal/lineage"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// Apply applies corrections to this quarter's records, to the stands of the previous batch, and to the
// links of stands that are mapped later. Corrections that an earlier batch applied are already in its
// figures: only their effect on this quarter's records and links is applied again. Afterwards
// in.Corrections holds the rows that count, with what each changed. Without a previous batch p is nil.
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
	for file, n := range c.aside { // the order does not matter
		aside = append(aside, survey.Aside{File: file, Records: n})
	}
	in.SetAside(aside)
	for i := range in.Files {
		if f := &in.Files[i]; f.Role == intake.RoleCorrections {
			n := min(c.lost[f.Name], f.Accepted)
			f.Accepted, f.Rejected = f.Accepted-n, f.Rejected+n
		}
	}
	return in
}

// reachCorrected says that reach cannot be compared because earlier figures contain look-alikes or
// wrong absences.
const reachCorrected = "corrections"

// apply applies one row. If an earlier batch applied it, only its effect on this quarter is applied.
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

// finish restores the order of records and stands.
func (c *corrector) finish() {
	if len(c.gone) > 0 {
		kept := make([]survey.Record, 0, len(c.in.Records.Listed)-len(c.gone))
		for i := range c.in.Records.Listed {
			if !c.gone[int32(i)] {
				kept = append(kept, c.in.Records.Listed[i])
			}
		}
		c.in.Records.Listed = kept
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
		if _, printed := then[id]; !printed { // a new stand: no acres were printed for it
			then[id] = result.Then{StreamID: c.before.Known[k].StreamID, WaterBody: c.before.Known[k].WaterBody}
		}
		c.before.Then[k] = then[id]
	}
	if c.stood {
		sortRecords(c.before)
	}
}

// sortRecords sorts the records by id.
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

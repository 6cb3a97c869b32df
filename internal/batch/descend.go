package batch

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// kin is what one stand goes on from.
type kin struct {
	change  lineage.Change
	parents []int32        // known stands, by their id
	from    survey.Quarter // of a carried stand: when it was last surveyed
}

// descend goes on from the batch before: stands take up their identities, and
// those nobody went to stand again as they were last known, with their records.
// Stands and records are in the order of their ids afterwards.
func (c *computation) descend() error {
	before := c.in.Previous
	now := lineage.Now{Quarter: c.in.Quarter, Stands: c.stands, Visits: before.Visits}
	c.lineage = lineage.Trace(before.Known, now, c.rules.lineage, c.host.workers())
	c.kin = make([]kin, len(c.stands))
	for i := range c.stands {
		c.stands[i].ID, c.kin[i].change = c.lineage.IDs[i], c.lineage.Changes[i]
	}
	for _, link := range c.lineage.Links {
		c.kin[link.Stand].parents = append(c.kin[link.Stand].parents, link.Known)
	}
	c.warnLittleSeen()
	c.carry()
	c.sortStands()
	return nil
}

// carry adds the stands that nobody went to, and their records.
func (c *computation) carry() {
	before := c.in.Previous
	taken := make([]bool, len(before.Records))
	var stands []stand.Stand
	for k, fate := range c.lineage.Fates {
		known := &before.Known[k]
		if fate != lineage.NotResurveyed || known.Absent {
			continue
		}
		for _, m := range known.Members {
			taken[m] = true
		}
		stands = append(stands, known.Stand)
		c.kin = append(c.kin, kin{fate, []int32{int32(k)}, known.Quarter})
	}
	if len(stands) == 0 {
		return
	}
	own, carried := c.merge(taken)
	for i := range c.stands {
		c.stands[i].Members = inPlaces(c.stands[i].Members, own)
	}
	for i := range stands {
		stands[i].Members = inPlaces(stands[i].Members, carried)
	}
	c.stands = append(c.stands, stands...)
	c.standOf = make([]int32, len(c.in.Records))
	for i := range c.standOf {
		c.standOf[i] = -1
	}
}

// merge puts the taken records of the batch before among this quarter's, by id,
// and returns where each record of either went.
func (c *computation) merge(taken []bool) (own, carried []int32) {
	records, before := c.in.Records, c.in.Previous.Records
	extra := c.carriedRecords(taken)
	own, carried = make([]int32, len(records)), make([]int32, len(before))
	all := make([]survey.Record, 0, len(records)+len(extra))
	for i, k := 0, 0; i < len(records) || k < len(extra); {
		at := int32(len(all))
		if k == len(extra) || i < len(records) && records[i].ID < extra[k].record.ID {
			own[i] = at
			all = append(all, records[i])
			i++
			continue
		}
		carried[extra[k].index] = at
		all = append(all, extra[k].record)
		k++
	}
	c.in.Records = all
	return own, carried
}

// carriedRecord is a record of the batch before with its index there.
type carriedRecord struct {
	record survey.Record
	index  int32
}

// carriedRecords returns the taken records by id, ready to stand among this
// quarter's. One whose id another has now gets the quarter of the batch it comes
// from after an @.
func (c *computation) carriedRecords(taken []bool) []carriedRecord {
	before, columns := c.in.Previous, c.carryColumns()
	given := map[string]bool{}
	used := func(id string) bool { return given[id] || holdsID(c.in.Records, id) }
	var out []carriedRecord
	for i, is := range taken {
		if !is {
			continue
		}
		r := before.Records[i]
		if holdsID(c.in.Records, r.ID) {
			for r.ID += "@" + before.Quarter.String(); used(r.ID) || holdsID(before.Records, r.ID); {
				r.ID += "@" + before.Quarter.String()
			}
			given[r.ID] = true
		}
		if notes := r.Told(); notes.Extra != nil {
			notes.Extra = inColumns(notes.Extra, columns)
			r.Notes = &notes
		}
		out = append(out, carriedRecord{r, int32(i)})
	}
	slices.SortFunc(out, func(a, b carriedRecord) int { return strings.Compare(a.record.ID, b.record.ID) })
	return out
}

// holdsID says whether a record of a list sorted by id has it.
func holdsID(records []survey.Record, id string) bool {
	_, found := slices.BinarySearchFunc(records, id, func(r survey.Record, id string) int { return strings.Compare(r.ID, id) })
	return found
}

// carryColumns adds the carried columns of the batch before after this quarter's
// and returns where each of them stands now.
func (c *computation) carryColumns() []int {
	columns := slices.Clone(c.in.ExtraColumns)
	at := make([]int, len(c.in.Previous.ExtraColumns))
	for k, name := range c.in.Previous.ExtraColumns {
		if at[k] = slices.Index(columns, name); at[k] < 0 {
			at[k] = len(columns)
			columns = append(columns, name)
		}
	}
	c.in.ExtraColumns = columns
	return at
}

// inColumns puts values into the given columns.
func inColumns(values []string, columns []int) []string {
	var out []string
	for k, value := range values {
		if value == "" {
			continue
		}
		if need := columns[k] + 1 - len(out); need > 0 {
			out = append(out, make([]string, need)...)
		}
		out[columns[k]] = value
	}
	return out
}

// sortStands puts the stands in the order of their ids.
func (c *computation) sortStands() {
	order := make([]int32, len(c.stands))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int { return strings.Compare(c.stands[a].ID, c.stands[b].ID) })
	stands, of := make([]stand.Stand, len(order)), make([]kin, len(order))
	place := places(order)
	for at, i := range order {
		stands[at], of[at] = c.stands[i], c.kin[i]
		for _, m := range stands[at].Members {
			c.standOf[m] = int32(at)
		}
	}
	for i := range c.lineage.Links {
		c.lineage.Links[i].Stand = place[c.lineage.Links[i].Stand]
	}
	c.stands, c.kin = stands, of
}

// warnLittleSeen tells of stands that shrank and of which little was surveyed.
func (c *computation) warnLittleSeen() {
	before := c.in.Previous
	if !c.in.EffortGiven {
		return
	}
	log := check.Log{}
	for _, link := range c.lineage.Links {
		known, visit := &before.Known[link.Known], &before.Visits[link.Known]
		if c.lineage.Changes[link.Stand] != lineage.Shrunk || visit.Share >= c.rules.lineage.SurveyedShare {
			continue
		}
		at := known.Center
		log.Add(check.Finding{
			Rule: lineage.RuleLittleSeen(), Record: known.ID, Position: &at,
			Message: fmt.Sprintf("the stand shrank, but only %.0f %% of its footprint lies in the surveyed ground", 100*visit.Share),
		})
	}
	c.doubts = log.Findings()
}

// addPrevious tells the answer of the batch before.
func (c *computation) addPrevious() {
	before := c.in.Previous
	if before == nil {
		return
	}
	links := c.lineage.Links
	for i := range links {
		links[i].Stand = c.place[links[i].Stand]
	}
	slices.SortFunc(links, func(a, b lineage.Link) int {
		return cmp.Or(cmp.Compare(a.Known, b.Known), strings.Compare(c.run.Stands[a.Stand].ID, c.run.Stands[b.Stand].ID))
	})
	c.run.Previous = &result.Previous{
		Quarter: before.Quarter, Known: before.Known, Visits: before.Visits, Links: links, Fates: c.lineage.Fates,
	}
	c.run.History = before.History
	for k, fate := range c.lineage.Fates {
		known := before.Known[k]
		if fate == "" || fate == lineage.NotResurveyed && !known.Absent {
			continue
		}
		if !known.Absent {
			known.Absent, known.Since = true, c.in.Quarter
		}
		c.run.Absent = append(c.run.Absent, result.Absent{Known: known, Looked: fate == lineage.NotDetected})
	}
}

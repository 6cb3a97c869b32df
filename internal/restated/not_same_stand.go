package restated

import (
	"fmt"
	"slices"

	"driftreach/internal/correction"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
)

// notSameStand keeps two stands separate, or splits a record from a stand.
func (c *corrector) notSameStand(row *correction.Correction, fresh bool) bool {
	not := c.known(row.Against())
	i := int32(-1)
	if row.RecordID != "" {
		i = c.find(row.RecordID)
	}
	if not == nil {
		if fresh {
			c.log.Add(row.Unknown("stand_id", row.Against()))
		}
		return false
	}
	if i >= 0 && c.in.Records.Listed[i].Detected {
		c.in.Rulings.Finds = append(c.in.Rulings.Finds, [2]string{row.RecordID, not.ID})
		row.Effect = fmt.Sprintf("what record %s found is not stand %s", row.RecordID, not.ID)
	}
	others := slices.Clone(row.Stands)
	if row.RecordID == "" {
		others = []string{row.StandID}
	}
	if row.RecordID != "" {
		switch known, m := c.holder(row.RecordID); {
		case known != nil && known.ID != not.ID:
			others = append(others, known.ID)
		case known != nil && fresh && earlyEnough(row, &c.before.Records[m], true):
			made := c.split(not, m)
			row.Stands, row.Effect = []string{made}, fmt.Sprintf("record %s is not of stand %s: it is stand %s", row.RecordID, not.ID, made)
			others = row.Stands
		}
	}
	for _, id := range others {
		other := c.known(id)
		if other == nil && !slices.ContainsFunc(c.added, func(k lineage.Known) bool { return k.ID == id }) {
			if fresh {
				c.log.Add(row.Unknown("stand_id", id))
			}
			return false
		}
		if other != nil {
			id = other.ID
		}
		c.in.Rulings.Apart = append(c.in.Rulings.Apart, [2]string{id, not.ID})
		if row.Effect == "" {
			row.Effect = fmt.Sprintf("stand %s and stand %s are kept apart", id, not.ID)
		}
	}
	if fresh && row.Effect == "" {
		c.log.Add(row.Unknown("occurrenceID", row.RecordID))
	}
	return row.Effect != ""
}

// split makes a record of a known stand a separate stand, together with records that other rows split
// from the same stand, and returns the new stand's id.
func (c *corrector) split(known *lineage.Known, record int32) string {
	left := slices.DeleteFunc(slices.Clone(known.Members), func(m int32) bool { return m == record })
	at, there := c.splits[known.ID]
	if !there {
		c.in.Rulings.Given++
		at = len(c.added)
		c.splits[known.ID] = at
		fresh := *known
		fresh.Members, fresh.Ruled = nil, lineage.Ruled{Was: &stand.Outline{}}
		fresh.ID = stand.ID(c.in.Quarter, c.in.Rulings.Given)
		c.added = append(c.added, fresh)
	}
	made := &c.added[at]
	members := slices.Sorted(slices.Values(append(slices.Clone(made.Members), record)))
	id, was, zone := made.ID, known.Infested, known.Zone
	made.Stand = stand.Build(c.before.Records, members, c.rules.Stands)
	made.ID, made.Zone, made.Memory = id, zone, lineage.Memory{Ever: made.Infested.Grains()}
	bound(made, was)
	c.restand(known, left, lineage.NotSameStand)
	c.changesGoTo(known.ID, id, len(left) > 0)
	if known.Out != "" { // no records are left: the new stand takes over its follow-up
		for i := range c.before.Followup {
			if row := &c.before.Followup[i]; row.StandID == known.ID {
				row.StandID = id
			}
		}
	}
	return id
}

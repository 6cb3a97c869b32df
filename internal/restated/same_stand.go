package restated

import (
	"fmt"
	"slices"
	"time"

	"driftreach/internal/correction"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// sameStand joins a stand to another one, or links a find to a stand.
func (c *corrector) sameStand(row *correction.Correction, fresh bool) bool {
	into := c.known(row.Against())
	if !fresh {
		for _, id := range row.Stands {
			c.alias[id] = row.Against()
			if into != nil && !slices.Contains(into.Same, id) {
				into.Same = append(into.Same, id)
			}
		}
		return false
	}
	if into == nil {
		c.log.Add(row.Unknown("stand_id", row.Against()))
		return false
	}
	var from *lineage.Known
	if row.RecordID != "" {
		from, _ = c.holder(row.RecordID)
		i := c.find(row.RecordID)
		switch {
		case from == nil && i < 0:
			c.log.Add(row.Unknown("occurrenceID", row.RecordID))
			return false
		case i >= 0 && c.in.Records.Listed[i].Detected:
			c.in.Rulings.Same = append(c.in.Rulings.Same, [2]string{row.RecordID, into.ID})
			row.Effect = fmt.Sprintf("what record %s found is stand %s", row.RecordID, into.ID)
		case from == nil:
			c.log.Add(row.WithoutEffect("the record found nothing"))
			return false
		}
	} else if from = c.known(row.StandID); from == nil {
		c.log.Add(row.Unknown("stand_id", row.StandID))
		return false
	}
	if from == nil {
		return true
	}
	if from.ID == into.ID {
		if row.Effect == "" {
			c.log.Add(row.WithoutEffect("it is one stand already"))
		}
		return row.Effect != ""
	}
	row.Stands = []string{from.ID}
	row.Effect = fmt.Sprintf("stand %s became part of stand %s, with %s acres", from.ID, into.ID, result.InAcres(c.acresOf(from)))
	c.alias[from.ID] = into.ID
	c.join(from, into)
	return true
}

// join gives a stand the ground and the history of another, which then ceases to exist.
func (c *corrector) join(from, into *lineage.Known) {
	keepGround(from)
	keepGround(into)
	id, first := into.ID, earliest(from.First, into.First)
	into.Same = append(append(into.Same, from.ID), from.Same...)
	switch m, o := &into.Memory, from.Memory; {
	case from.Absent:
		m.Ever = max(m.Ever, o.Ever)
	case into.Absent: // the missing stand was mapped under another id
		m.Ever, m.Missing = max(m.Ever, o.Ever), o.Missing
		into.Stand, into.Zone, into.Quarter, into.Absent, into.Since = from.Stand, from.Zone, from.Quarter, false, survey.Quarter{}
		into.StreamID, into.WaterBody, into.RiverKm = from.StreamID, from.WaterBody, from.RiverKm
	default:
		m.Ever, m.Missing = m.Ever+o.Ever, m.Missing+o.Missing
		most, zone := from.Infested+into.Infested, from.Zone+into.Zone
		members := slices.Sorted(slices.Values(slices.Concat(into.Members, from.Members)))
		into.Stand = stand.Build(c.before.Records, members, c.rules.Stands)
		into.Infested = min(into.Infested, most)
		into.Zone = min(zone, into.Infested)
		bound(into, into.Infested)
		if from.Quarter.Begin().After(into.Quarter.Begin()) {
			into.Quarter = from.Quarter
		}
	}
	into.ID, into.First = id, first
	c.wider = append(c.wider, c.placeOf(into))
	c.changesGoTo(from.ID, id, false)
	defer c.hold(into) // runs last, after from has let its records go
	c.restand(from, nil, lineage.SameStand)
}

// earliest returns the earlier of two days, either of which may be unknown.
func earliest(a, b time.Time) time.Time {
	if a.IsZero() || !b.IsZero() && b.Before(a) {
		return b
	}
	return a
}

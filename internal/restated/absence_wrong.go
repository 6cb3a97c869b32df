package restated

import (
	"fmt"
	"math"
	"slices"

	"driftreach/internal/correction"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// absenceWrong withdraws a record that found nothing, or restores a stand that was not detected to its
// last known state.
func (c *corrector) absenceWrong(row *correction.Correction, fresh bool) bool {
	if row.RecordID != "" {
		i := c.find(row.RecordID)
		switch {
		case i < 0 && fresh:
			c.log.Add(row.Unknown("occurrenceID", row.RecordID))
		case i < 0:
		case c.in.Records.Listed[i].Detected && fresh:
			c.log.Add(row.WithoutEffect("the record is a find"))
		case c.in.Records.Listed[i].Detected:
		case !earlyEnough(row, &c.in.Records.Listed[i], fresh):
			c.log.Add(row.Later(row.RecordID, dayOfRecord(&c.in.Records.Listed[i])))
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

// restore sets a stand that was not detected back to its last known state. Since its records are gone,
// one record of the same size replaces them.
func (c *corrector) restore(known *lineage.Known) {
	keepGround(known)
	c.reachMoved = c.reachMoved || known.Zone > 0
	c.takeBackLast(known.ID)
	known.Absent, known.Since = false, survey.Quarter{}
	known.Memory.Missing = max(0, known.Memory.Missing-known.InfestedAcres())
	r := survey.Record{
		ID: known.ID, Position: known.Place(), Cover: known.CoverPercent, StemHeight: known.StemHeight,
		Outline: known.Footprint.Polygons(), Detected: true, Status: known.Status,
		Notes: survey.Notes{Remarks: "stand " + known.ID + " as last mapped, put back by a correction"}.Pack(),
	}
	if slices.Contains(known.Assumed, stand.AssumedCover) {
		r.Cover = math.NaN()
	}
	if !known.First.IsZero() {
		r.Begin, r.End = survey.DayOf(known.First), survey.DayOf(known.Last)
	}
	c.index()
	for there := true; there; {
		if _, there = c.records[r.ID]; there {
			r.ID += "@" + known.Quarter.String()
		}
	}
	known.Members = []int32{int32(len(c.before.Records))}
	c.records[r.ID], c.holds = known.Members[0], append(c.holds, -1)
	c.hold(known)
	c.before.Records, c.before.From = append(c.before.Records, r), append(c.before.From, known.Quarter)
	c.stood = true
	for i := range c.before.Followup {
		if row := &c.before.Followup[i]; row.StandID == known.ID {
			*row = row.PutBack(c.rules.Followup, c.before.Quarter)
		}
	}
}

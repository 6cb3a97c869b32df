package restated

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/correction"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/stand"
)

// withdrawnText says how many acres are removed from the previous batch.
func withdrawnText(grains int64) string {
	if grains == 0 {
		return "it is withdrawn, and had no acres in the batch before"
	}
	return result.InAcres(grains) + " acres of the batch before are withdrawn"
}

// misidentified withdraws a record or a whole stand as a look-alike. Its acres are removed from the
// previous batch, which is restated, and its finds of this quarter do not count.
func (c *corrector) misidentified(row *correction.Correction, fresh bool) bool {
	if !fresh {
		ids := row.Records
		if row.RecordID != "" && !slices.Contains(ids, row.RecordID) {
			ids = append(slices.Clone(ids), row.RecordID)
		}
		for _, id := range ids {
			c.withdrawFind(row, c.find(id), false)
		}
		return false
	}
	if row.RecordID != "" {
		return c.misidentifiedRecord(row)
	}
	known := c.known(row.StandID)
	if known == nil {
		c.log.Add(row.Unknown("stand_id", row.StandID))
		return false
	}
	was, name, outline := c.acresOf(known), known.ID, known.Footprint
	var left []int32
	for _, m := range known.Members {
		if r := &c.before.Records[m]; earlyEnough(row, r, true) {
			row.Records = append(row.Records, r.ID)
		} else {
			c.log.Add(row.Later(r.ID, dayOfRecord(r)))
			left = append(left, m)
		}
	}
	if len(left) == len(known.Members) && len(left) > 0 {
		c.log.Add(row.WithoutEffect("every record of the stand is of a later day"))
		return false
	}
	finds, beside := c.findsOn(known.ID, outline, row)
	c.lookAlike(known, left)
	for _, i := range finds {
		c.withdrawFind(row, i, true)
	}
	for _, id := range slices.Clone(row.Records) {
		c.withdrawFind(row, c.find(id), true)
	}
	c.withdrawn(row, known)
	if len(beside) > 0 {
		c.log.Add(row.Beside(name, beside))
	}
	row.Effect = fmt.Sprintf("stand %s was a look-alike: %s", name, withdrawnText(was-c.acresOf(known)))
	return true
}

// lookAlike rebuilds a known stand from the records that are left after the others turned out to be a
// look-alike. What these added to changes and to reach at risk in earlier quarters was wrong too.
func (c *corrector) lookAlike(known *lineage.Known, left []int32) {
	c.reachMoved = c.reachMoved || known.Zone > 0 && !known.Absent
	c.takeBack(known.ID, len(left) == 0)
	c.restand(known, left, lineage.Misidentified)
}

// withdrawn also removes a stand with no records left from the follow-up.
func (c *corrector) withdrawn(row *correction.Correction, known *lineage.Known) {
	if known.Out == "" {
		return
	}
	row.Stands = []string{known.ID}
	c.before.Followup = slices.DeleteFunc(c.before.Followup, func(r followup.Row) bool { return r.StandID == known.ID })
}

// misidentifiedRecord withdraws one record: of the previous batch, of this quarter or of both.
func (c *corrector) misidentifiedRecord(row *correction.Correction) bool {
	known, m := c.holder(row.RecordID)
	i := c.find(row.RecordID)
	if known == nil && i < 0 {
		c.log.Add(row.Unknown("occurrenceID", row.RecordID))
		return false
	}
	done, acres := false, int64(0)
	if known != nil {
		if r := &c.before.Records[m]; earlyEnough(row, r, true) {
			was := known.InfestedAcres()
			left := slices.DeleteFunc(slices.Clone(known.Members), func(other int32) bool { return other == m })
			c.lookAlike(known, left)
			c.withdrawn(row, known)
			row.Records = append(row.Records, r.ID)
			acres, done = was-known.InfestedAcres(), true
		} else {
			c.log.Add(row.Later(r.ID, dayOfRecord(r)))
		}
	}
	if i >= 0 {
		done = c.withdrawFind(row, i, true) || done
	}
	row.Effect = fmt.Sprintf("record %s was a look-alike: %s", row.RecordID, withdrawnText(acres))
	return done
}

// withdrawFind sets a find of this quarter aside as a look-alike, and says whether it did. i is -1 if
// there is no find.
func (c *corrector) withdrawFind(row *correction.Correction, i int32, fresh bool) bool {
	if i < 0 || c.gone[i] || !c.in.Records.Listed[i].Detected {
		return false
	}
	r := &c.in.Records.Listed[i]
	if !earlyEnough(row, r, fresh) {
		c.log.Add(row.Later(r.ID, dayOfRecord(r)))
		return false
	}
	c.takeOut(row, i)
	return true
}

// findsOn returns the finds of this quarter that are on the ground of a stand, within the uncertainty
// of positions, and not on another stand. It also returns the ids of those beside it, within the join
// distance: the stand may have been larger before its last look. Finds dated after the row are left out.
func (c *corrector) findsOn(id string, outline stand.Outline, row *correction.Correction) (on []int32, beside []string) {
	own := stand.GroundOf(outline, outline.Bound().Center())
	for _, i := range c.findsBetween(outline.Bound()) {
		r := &c.in.Records.Listed[i]
		if !earlyEnough(row, r, true) {
			continue
		}
		u := r.Uncertainty
		if u == 0 {
			u = c.rules.Lineage.Uncertainty
		}
		// twice the radius that contains 68 % contains 99 %
		reach := min(c.rules.Lineage.JoinDistance, geo.Meters(2*math.Hypot(float64(u), float64(c.rules.Lineage.Uncertainty))))
		switch {
		case !own.Near(r.Position, c.rules.Lineage.JoinDistance) || c.othersGround(id, r.Position):
		case own.Near(r.Position, reach):
			on = append(on, i)
		case !c.gone[i] && !slices.Contains(row.Records, r.ID):
			beside = append(beside, r.ID)
		}
	}
	slices.Sort(on)
	slices.Sort(beside)
	return on, beside
}

// othersGround says whether a place is on another stand of the map.
func (c *corrector) othersGround(id string, at orb.Point) bool {
	return slices.ContainsFunc(c.standsAt(at[1]), func(place int32) bool {
		k := &c.before.Known[place]
		return k.ID != id && k.Out == "" && !k.Absent && stand.GroundOf(k.Footprint, k.Center).Near(at, 0)
	})
}

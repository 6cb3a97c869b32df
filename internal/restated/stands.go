package restated

import (
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/correction"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// withdrawnText says what goes out of the batch before.
func withdrawnText(grains int64) string {
	if grains == 0 {
		return "it is withdrawn, and had no acres in the batch before"
	}
	return result.InAcres(grains) + " acres of the batch before are withdrawn"
}

// misidentified withdraws a record or all of a stand as a look-alike: its acres go out
// of the batch before, which is restated, and its finds of this quarter count nowhere.
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
	finds := c.findsOn(known.ID, outline, row)
	c.lookAlike(known, left)
	for _, i := range finds {
		c.withdrawFind(row, i, true)
	}
	for _, id := range slices.Clone(row.Records) {
		c.withdrawFind(row, c.find(id), true)
	}
	c.withdrawn(row, known)
	row.Effect = fmt.Sprintf("stand %s was a look-alike: %s", name, withdrawnText(was-c.acresOf(known)))
	return true
}

// lookAlike makes a known stand of the records that are left of it when the others were
// a look-alike, which was no change and put nothing at risk in earlier quarters either.
func (c *corrector) lookAlike(known *lineage.Known, left []int32) {
	c.reachMoved = c.reachMoved || known.Zone > 0 && !known.Absent
	c.takeBack(known.ID, len(left) == 0)
	c.restand(known, left, lineage.Misidentified)
}

// withdrawn takes a stand of which nothing is left out of the follow-up too.
func (c *corrector) withdrawn(row *correction.Correction, known *lineage.Known) {
	if known.Out == "" {
		return
	}
	row.Stands = []string{known.ID}
	c.before.Followup = slices.DeleteFunc(c.before.Followup, func(r followup.Row) bool { return r.StandID == known.ID })
}

// acresOf returns what a known stand has now, in grains.
func (c *corrector) acresOf(k *lineage.Known) int64 {
	if k.Absent {
		return 0
	}
	return k.InfestedAcres()
}

// misidentifiedRecord withdraws one record, of the batch before, of this quarter or of
// both.
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

// withdrawFind sets a find of this quarter aside as a look-alike, and says whether it
// did; -1 for no find.
func (c *corrector) withdrawFind(row *correction.Correction, i int32, fresh bool) bool {
	if i < 0 || c.gone[i] || !c.in.Records[i].Detected {
		return false
	}
	r := &c.in.Records[i]
	if !earlyEnough(row, r, fresh) {
		c.log.Add(row.Later(r.ID, dayOfRecord(r)))
		return false
	}
	c.takeOut(row, i)
	return true
}

// findsOn returns the finds of this quarter, up to the row's day, on the ground of a
// stand as far as positions can tell, and nearer to no other stand.
func (c *corrector) findsOn(id string, outline stand.Outline, row *correction.Correction) []int32 {
	var out []int32
	own := stand.GroundOf(outline, outline.Bound().Center())
	for _, i := range c.findsBetween(outline.Bound()) {
		r := &c.in.Records[i]
		if !earlyEnough(row, r, true) {
			continue
		}
		u := r.Uncertainty
		if u == 0 {
			u = c.rules.Lineage.Uncertainty
		}
		// twice the radius that holds 68 % holds 99 %
		reach := min(c.rules.Lineage.JoinDistance, geo.Meters(2*math.Hypot(float64(u), float64(c.rules.Lineage.Uncertainty))))
		if own.Near(r.Position, reach) && !c.othersGround(id, r.Position) {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return out
}

// othersGround says whether a place lies on another stand that is there.
func (c *corrector) othersGround(id string, at orb.Point) bool {
	return slices.ContainsFunc(c.standsAt(at[1]), func(place int32) bool {
		k := &c.before.Known[place]
		return k.ID != id && k.Out == "" && !k.Absent && stand.GroundOf(k.Footprint, k.Center).Near(at, 0)
	})
}

// restand makes a known stand of the records that are left of it, or takes it out.
func (c *corrector) restand(known *lineage.Known, left []int32, why lineage.Change) {
	keepGround(known)
	c.letGo(known.Members)
	defer c.hold(known)
	if len(left) == 0 {
		known.Out, known.Members = why, nil
		known.Gross, known.Infested, known.Canopy, known.Zone, known.Memory = 0, 0, 0, 0, lineage.Memory{}
		return
	}
	was := known.Stand
	st := stand.Build(c.before.Records, left, c.rules.Stands)
	st.ID, st.Isolated, st.Infested = was.ID, was.Isolated, min(st.Infested, was.Infested) // positions were rounded
	known.Stand = st
	known.Memory.Ever = max(st.Infested.Grains(), known.Memory.Ever-was.Infested.Grains()+st.Infested.Grains())
	bound(known, was.Infested)
}

// bound keeps a stand's acreages in their order; its part in the zone shrinks as its
// infested area did from what it was.
func bound(known *lineage.Known, was geo.SquareMeters) {
	if was > 0 {
		known.Zone *= min(1, known.Infested/was)
	}
	known.Zone, known.Canopy = min(known.Zone, known.Infested), min(known.Canopy, known.Infested)
	known.Gross = max(known.Gross, known.Infested)
}

// keepGround remembers the ground of a stand that is changed: what was printed of it lay
// there.
func keepGround(known *lineage.Known) {
	if known.Was == nil {
		was := known.Footprint
		known.Was = &was
	}
}

// restore puts a stand that was not detected back as it was last known. Its records are
// gone: one that is as large stands for them.
func (c *corrector) restore(known *lineage.Known) {
	keepGround(known)
	c.reachMoved = c.reachMoved || known.Zone > 0
	c.takeBackLast(known.ID)
	known.Absent, known.Since = false, survey.Quarter{}
	known.Memory.Missing = max(0, known.Memory.Missing-known.InfestedAcres())
	r := survey.Record{
		ID: known.ID, Position: known.Footprint.Inside(known.Center), Cover: known.CoverPercent, StemHeight: known.StemHeight,
		Outline: known.Footprint.Polygons(), Detected: true, Status: known.Status,
		Notes: &survey.Notes{Remarks: "stand " + known.ID + " as last mapped, put back by a correction"},
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

// sameStand lets a stand go on as another, or links a find to one.
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
		case i >= 0 && c.in.Records[i].Detected:
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

// join gives a stand the ground and the history of another, which is no more.
func (c *corrector) join(from, into *lineage.Known) {
	keepGround(from)
	keepGround(into)
	id, first := into.ID, earliest(from.First, into.First)
	into.Same = append(append(into.Same, from.ID), from.Same...)
	switch m, o := &into.Memory, from.Memory; {
	case from.Absent:
		m.Ever = max(m.Ever, o.Ever)
	case into.Absent: // what was missing stood there under another name
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
	defer c.hold(into) // when it no longer holds them
	c.restand(from, nil, lineage.SameStand)
}

// earliest returns the earlier of two days of which either may be unknown.
func earliest(a, b time.Time) time.Time {
	if a.IsZero() || !b.IsZero() && b.Before(a) {
		return b
	}
	return a
}

// notSameStand keeps two stands apart, or takes a record out of a stand as one of its
// own.
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
	if i >= 0 && c.in.Records[i].Detected {
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

// split makes a record of a known stand a stand of its own, with those that other rows
// took out of the same stand, and returns its id.
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
	if known.Out != "" { // its history is that of what it was all along
		for i := range c.before.Followup {
			if row := &c.before.Followup[i]; row.StandID == known.ID {
				row.StandID = id
			}
		}
	}
	return id
}

package restated

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/internal/lineage"
)

// holder returns the stand of the previous batch that contains a record, and the record's index there;
// nil for none.
func (c *corrector) holder(id string) (*lineage.Known, int32) {
	if c.before == nil {
		return nil, -1
	}
	c.index()
	m, there := c.records[id]
	if !there {
		return nil, -1
	}
	if k := c.holds[m]; k >= 0 {
		return &c.before.Known[k], m
	}
	return nil, m
}

// index builds, once, the index of the previous batch's records and of the stands that contain them.
func (c *corrector) index() {
	if c.records != nil {
		return
	}
	c.records, c.holds = make(map[string]int32, len(c.before.Records)), slices.Repeat([]int32{-1}, len(c.before.Records))
	for m := range c.before.Records {
		c.records[c.before.Records[m].ID] = int32(m)
	}
	for k := range c.before.Known {
		c.hold(&c.before.Known[k])
	}
}

// hold records in the index, if it has been built, that a known stand contains its records.
func (c *corrector) hold(known *lineage.Known) {
	if c.records == nil {
		return
	}
	k := c.placeOf(known)
	for _, m := range known.Members {
		c.holds[m] = k
	}
}

// placeOf returns the index of a known stand among those of the previous batch.
func (c *corrector) placeOf(known *lineage.Known) int32 {
	k, _ := slices.BinarySearchFunc(c.before.Known, known.ID, func(k lineage.Known, id string) int { return strings.Compare(k.ID, id) })
	return int32(k)
}

// letGo records in the index that no known stand contains the given records.
func (c *corrector) letGo(records []int32) {
	if c.records == nil {
		return
	}
	for _, m := range records {
		c.holds[m] = -1
	}
}

// metersOfLatitude is less than the length of any degree of latitude (110 574 m at the equator).
const metersOfLatitude = 110_000

// findsBetween returns the indices of this quarter's finds that may be within the join distance of a
// box.
func (c *corrector) findsBetween(box orb.Bound) []int32 {
	if c.finds == nil {
		var all []int32
		for i := range c.in.Records.Listed {
			if c.in.Records.Listed[i].Detected {
				all = append(all, int32(i))
			}
		}
		finds := latitudes(all, func(i int32) orb.Bound { return c.in.Records.Listed[i].Position.Bound() })
		c.finds = &finds
	}
	far := float64(c.rules.Lineage.JoinDistance) / metersOfLatitude
	return c.finds.between(box.Min[1]-far, box.Max[1]+far)
}

// standsAt returns the indices of the known stands that may be at a latitude: those that were there
// before corrections, and those that others were joined to since.
func (c *corrector) standsAt(latitude float64) []int32 {
	if c.stands == nil {
		all := make([]int32, len(c.before.Known))
		for k := range all {
			all[k] = int32(k)
		}
		stands := latitudes(all, func(k int32) orb.Bound { return c.before.Known[k].Footprint.Bound() })
		c.stands = &stands
	}
	return slices.Concat(c.stands.between(latitude, latitude), c.wider)
}

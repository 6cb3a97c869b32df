package batch

import (
	"slices"

	"driftreach/geo/parallel"
	"driftreach/internal/survey"
)

// placeKnown finds where the stands of the previous batch are along the present streams, and how much
// of each is in the present zone. Stands not detected since are placed by their footprint.
func (c *computation) placeKnown() error {
	if !c.in.Previous.Elsewhere {
		return nil
	}
	before := *c.in.Previous
	before.Known = slices.Clone(before.Known)
	c.in.Previous = &before
	return parallel.Each(c.ctx, len(before.Known), c.host.Goroutines(), func(k int) {
		known := &before.Known[k]
		st, records := known.Stand, before.Records
		if known.Absent {
			st.Members, records = []int32{0}, []survey.Record{{Position: known.Center, Outline: known.Footprint.Polygons()}}
		}
		if len(st.Members) == 0 || known.Absent && len(records[0].Outline) == 0 {
			return
		}
		m, _ := c.water.Judge(&st, records, c.rules.Stands)
		known.StreamID, known.WaterBody = "", ""
		if m.Line >= 0 {
			line := c.net.Line(m.Line)
			known.StreamID, known.WaterBody = line.ID, line.Name
		}
		known.Zone, known.RiverKm = m.Area, c.riverKm(m.Place)
	})
}

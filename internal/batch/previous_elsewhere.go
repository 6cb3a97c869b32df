package batch

import (
	"slices"

	"driftreach/geo/parallel"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// elsewhere says whether the stands of the batch before may lie otherwise by the
// present streams: these were others, had other names, or are made into a network or
// a zone by other settings.
func (e *earlier) elsewhere(p *Previous, in *Observed, s settings.Settings) bool {
	if p.Restated || e.otherFiles(in, "streams") || e.otherFiles(in, "water") || len(e.otherWater(in)) > 0 || e.otherMaker() != "" ||
		len(settings.InTables(settings.Apart(e.settings, s.AsMap()), "aquatic", "network")) > 0 {
		return true
	}
	named := make(map[string]string, len(in.Centerlines))
	for i := range in.Centerlines {
		named[in.Centerlines[i].ID] = in.Centerlines[i].Name
	}
	for k := range p.Known {
		known := &p.Known[k]
		if name, there := named[known.StreamID]; known.StreamID != "" && (!there || name != known.WaterBody) {
			return true
		}
	}
	return false
}

// reachApart returns what the reach of the batch before was made with that this one's
// is not: streams, barriers, water surfaces, settings, the version. Reach is never restated; it breaks there.
func (e *earlier) reachApart(in *Observed, s settings.Settings) []string {
	out := append(e.otherWater(in), settings.OfReach(settings.Apart(e.settings, s.AsMap()))...)
	if other := e.otherMaker(); other != "" {
		out = append(out, other)
	}
	return out
}

// placeKnown finds where the stands of the batch before lie by the present streams,
// and how much of them in the present zone. Those not detected since are taken by
// their footprint.
func (c *computation) placeKnown() error {
	if !c.in.Previous.Elsewhere {
		return nil
	}
	before := *c.in.Previous
	before.Known = slices.Clone(before.Known)
	c.in.Previous = &before
	return parallel.Each(c.ctx, len(before.Known), c.host.workers(), func(k int) {
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
			known.StreamID, known.WaterBody = c.in.Centerlines[m.Line].ID, c.in.Centerlines[m.Line].Name
		}
		known.Zone, known.RiverKm = m.Area, c.riverKm(m.Place)
	})
}

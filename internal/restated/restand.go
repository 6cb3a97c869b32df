package restated

import (
	"driftreach/geo"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
)

// acresOf returns what a known stand has now, in grains.
func (c *corrector) acresOf(k *lineage.Known) int64 {
	if k.Absent {
		return 0
	}
	return k.InfestedAcres()
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

package restated

import (
	"driftreach/geo"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
)

// acresOf returns the present acres of a known stand, in grains.
func (c *corrector) acresOf(k *lineage.Known) int64 {
	if k.Absent {
		return 0
	}
	return k.InfestedAcres()
}

// restand rebuilds a known stand from the records that are left. If none are left, it takes the stand
// out.
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
	st.ID, st.Isolated, st.Infested = was.ID, was.Isolated, min(st.Infested, was.Infested) // rounding of positions could make it larger
	known.Stand = st
	known.Memory.Ever = max(st.Infested.Grains(), known.Memory.Ever-was.Infested.Grains()+st.Infested.Grains())
	bound(known, was.Infested)
}

// bound keeps a stand's acreages consistent. Its area in the zone shrinks in proportion to its infested
// area, which was was.
func bound(known *lineage.Known, was geo.SquareMeters) {
	if was > 0 {
		known.Zone *= min(1, known.Infested/was)
	}
	known.Zone, known.Canopy = min(known.Zone, known.Infested), min(known.Canopy, known.Infested)
	known.Gross = max(known.Gross, known.Infested)
}

// keepGround keeps the footprint that a stand had before corrections: the acres printed for it were
// there.
func keepGround(known *lineage.Known) {
	if known.Was == nil {
		was := known.Footprint
		known.Was = &was
	}
}

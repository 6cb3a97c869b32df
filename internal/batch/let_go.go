package batch

import (
	"slices"

	"driftreach/internal/drift"
	"driftreach/internal/mapfile"
)

// Which of the stages after the answer is put together this batch has.

func (c *computation) plans() bool { return c.rules.Plan.Budget > 0 }

// links says whether the links between stands are found. With more than mapfile.MostUnasked stands,
// they are only if a plan is made.
func (c *computation) links() bool { return c.count <= mapfile.MostUnasked || c.plans() }

// asksWater says whether any of these stages asks where the banks are.
func (c *computation) asksWater() bool {
	return c.plans() || c.in.WorksGiven || len(c.in.Units) > 0 || c.atWater.Written(c.count) || c.wanted.Written(c.count)
}

// touchesDone says whether nothing asks for the touches once all sources are released. Where a stand is
// treated in part, the order asks whether its rest touches the zone.
func (c *computation) touchesDone() bool {
	return !c.links() && !slices.ContainsFunc(c.treatedAt, func(part int32) bool { return part >= 0 })
}

// letGo drops what none of these stages asks for. In a large batch that is most of what the drift was
// computed from.
func (c *computation) letGo() {
	c.margins, c.standOf, c.from, c.copyOf = nil, nil, nil, nil
	if !c.asksWater() {
		c.water = nil
	}
	if !c.links() {
		c.touches = nil
	}
	if !c.asksWater() && !c.links() {
		c.stands, c.members = nil, nil // the result has them
	}
	if !c.plans() {
		c.bands, c.divided, c.treatedAt = nil, divided{}, nil
	}
	if !c.links() && !c.in.WorksGiven && !c.wanted.Written(c.count) {
		c.drift, c.flood = drift.Drift{}, nil
	}
}

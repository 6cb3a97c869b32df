package batch

import (
	"driftreach/internal/apportion"
	"driftreach/internal/stand"
)

// divide splits the stands' acres and the reaches' length by reporting unit, and
// the infested acres of the batch before, where its stands lay then.
func (c *computation) divide() error {
	units := apportion.NewMap(c.in.Units)
	c.run.Units = c.in.Units
	shares := units.Stands(apportion.Ground{
		Stands: c.stands, Records: c.run.Records, Rules: c.rules.stands, Zone: c.members, Water: c.water,
	}, c.host.workers())
	for i, at := range c.place {
		c.run.Stands[at].Shares = shares[i]
	}
	if err := c.ctx.Err(); err != nil {
		return err
	}
	c.run.ReachShares = units.Reaches(c.run.Reaches, c.host.workers())
	if before := c.run.Previous; before != nil {
		outlines, acres := make([]stand.Outline, len(before.Known)), make([]int64, len(before.Known))
		for k := range before.Known {
			outlines[k], acres[k] = before.Known[k].Footprint, before.Known[k].InfestedAcres()
		}
		before.Shares = units.Footprints(outlines, acres, c.host.workers())
	}
	return nil
}

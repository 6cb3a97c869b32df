package batch

import (
	"math"

	"driftreach/internal/lineage"
)

// part splits each stand's infested acres into their parts, in grains, and classifies its change.
// shares is the share of each mapped stand's area that was never surveyed before.
func (c *computation) part(shares []float64) {
	known := c.in.Previous.Known
	outcomes := make([]lineage.Outcome, len(c.lineage.Groups))
	for g, group := range c.lineage.Groups {
		p := &c.ancestry[g].parts
		all := c.stands[g].Infested.Grains()
		p.Own = min(p.Own, all)
		p.Carried = all - p.Own
		p.FirstLooked = firstLooked(group, shares, c.ownAcres(g), p.Own)
		outcomes[g] = lineage.Outcome{Infested: c.stands[g].Infested, Carried: len(c.lineage.Carried[g]) > 0, Unknown: 2*p.FirstLooked > p.Own}
	}
	for g, change := range c.lineage.Judge(known, outcomes, c.rules.Lineage) {
		c.ancestry[g].change = change
	}
	for i := range c.stands[len(outcomes):] {
		at := len(outcomes) + i
		c.ancestry[at].parts.Carried = c.stands[at].Infested.Grains()
	}
	c.remember()
}

// firstLooked returns the part of a group's own acres on ground that was never surveyed before.
func firstLooked(group []int32, shares, acres []float64, own int64) int64 {
	unknown, all := 0.0, 0.0
	for i, m := range group {
		unknown, all = unknown+shares[m]*acres[i], all+acres[i]
	}
	if !(all > 0) {
		return 0
	}
	return min(own, int64(math.Round(float64(own)*unknown/all)))
}

// ownAcres returns the acres of a group's mapped stands, for use as weights.
func (c *computation) ownAcres(g int) []float64 {
	out := make([]float64, len(c.lineage.Groups[g]))
	for i, m := range c.lineage.Groups[g] {
		out[i] = float64(c.mapped[m])
	}
	return out
}

package batch

import (
	"slices"

	"driftreach/internal/allocate"
	"driftreach/internal/result"
	"driftreach/internal/stand"
)

// divide splits the acres of the stands and the lengths of the reaches by reporting unit. It also
// splits the previous batch's infested acres, using the stands' outlines of that time.
func (c *computation) divide() error {
	units := allocate.NewMap(c.in.Units)
	c.units = units
	c.run.Units = c.in.Units
	shares := units.Stands(allocate.Ground{
		Stands: c.stands, Records: c.in.Records, Rules: c.rules.Stands, Zone: c.members, Water: c.water,
	}, c.host.Goroutines())
	for i, at := range c.place {
		c.run.Stands[at].Shares = shares[i]
	}
	c.placeTreatments(units)
	if err := c.ctx.Err(); err != nil {
		return err
	}
	c.run.ReachShares = units.Reaches(c.run.Reaches, c.host.Goroutines())
	if c.run.Previous != nil {
		c.divideBefore(units)
	}
	return nil
}

// divideBefore splits the previous batch's infested acres by the present units. Stands that were not
// surveyed are split as they are now.
func (c *computation) divideBefore(units *allocate.Map) {
	before := c.run.Previous
	before.Printed = c.in.Previous.Units
	outlines := make([]stand.Outline, len(before.Known))
	for k := range before.Known {
		outlines[k] = before.Known[k].Footprint
	}
	before.Shares = units.Footprints(outlines, before.Restated, c.host.Goroutines())
	before.Was = printedShares(units, before, c.host.Goroutines())
	for k, fate := range before.Fates {
		if fate.Stays() && !before.Known[k].Absent {
			before.Shares[k] = atLeast(before.Shares[k], c.run.Stands[before.Home[k]].Shares)
		}
	}
}

// printedShares splits by unit the acres that the previous batch printed for known stands changed by
// corrections. Other stands get no shares.
func printedShares(units *allocate.Map, before *result.Previous, workers int) [][]allocate.Share {
	out := make([][]allocate.Share, len(before.Known))
	var at []int
	var outlines []stand.Outline
	var acres []int64
	for k := range before.Known {
		if was, then := before.Known[k].Was, before.Then[k].Infested; was != nil && then > 0 {
			at, outlines, acres = append(at, k), append(outlines, *was), append(acres, then)
		}
	}
	for i, shares := range units.Footprints(outlines, acres, workers) {
		out[at[i]] = shares
	}
	return out
}

// atLeast raises the shares of a stand so that none is smaller than the share of its remaining part in
// the same unit; rounding can cause that. The difference is taken from the unit that has most to spare.
func atLeast(shares, left []allocate.Share) []allocate.Share {
	out := slices.Clone(shares)
	for _, l := range left {
		at := slices.IndexFunc(out, func(s allocate.Share) bool { return s.Unit == l.Unit })
		if at < 0 {
			at = len(out)
			out = append(out, allocate.Share{Unit: l.Unit})
		}
		for out[at].Infested < l.Infested {
			from, most := -1, int64(0)
			for i := range out {
				has := out[i].Infested
				if k := slices.IndexFunc(left, func(s allocate.Share) bool { return s.Unit == out[i].Unit }); k >= 0 {
					has -= left[k].Infested
				}
				if has > most {
					from, most = i, has
				}
			}
			if from < 0 {
				return out
			}
			more := min(most, l.Infested-out[at].Infested)
			out[at].Infested += more
			out[from].Infested -= more
		}
	}
	return out
}

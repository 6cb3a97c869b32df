package batch

import (
	"fmt"
	"math"

	"driftreach/geo"
	"driftreach/geo/parallel"
	"driftreach/internal/check"
	"driftreach/internal/folder"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
)

// MostDefaultsApart is how far the shares of acres on default patches may lie apart in two quarters before it
// is told. Our choice: a fifth of the acres changes more than a season's growth does.
const MostDefaultsApart = 0.2

// tellDefaults reports that the stands of both quarters rest on default patches to another extent than
// before: their observed change is then partly that from measured to default patches, or back.
func (c *computation) tellDefaults() error {
	known := c.in.Previous.Known
	on := make([]geo.SquareMeters, len(known))
	err := parallel.Each(c.ctx, len(known), c.host.Goroutines(), func(k int) {
		if c.run.Previous.Home[k] >= 0 {
			on[k] = known[k].Stand.Resting(c.in.Previous.Records, c.rules.Stands).Infested
		}
	})
	if err != nil {
		return err
	}
	var then, now, thenOn, nowOn geo.SquareMeters
	both := make([]bool, len(c.run.Stands))
	for k := range known {
		if home := c.run.Previous.Home[k]; home >= 0 && !known[k].Absent {
			then, thenOn = then+known[k].Stand.Infested, thenOn+on[k]
			both[home] = true
		}
	}
	for i := range c.run.Stands {
		if s := &c.run.Stands[i]; both[i] {
			now, nowOn = now+s.Infested, nowOn+s.Margin.Resting.Infested
		}
	}
	if then == 0 || now == 0 || math.Abs(float64(thenOn/then-nowOn/now)) < MostDefaultsApart {
		return nil
	}
	c.report(check.Finding{
		Rule: lineage.RuleDefaults(), File: folder.ManifestName, Field: "patch_area_m2",
		Message: fmt.Sprintf("in stands of both quarters, %s of %s infested acres rest on the default patch, and %s of %s did in %s; so not all observed change is growth or loss of plants",
			acres(nowOn), acres(now), acres(thenOn), acres(then), c.in.Previous.Quarter),
	})
	return nil
}

// acres returns an area as findings tell it.
func acres(a geo.SquareMeters) string { return result.InAcres(a.Grains()) }

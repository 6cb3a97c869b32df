package batch

import (
	"fmt"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/stand"
)

// leastTwice is the share of the infested acres that must count twice before it is told. Our choice:
// less does not show in the digits of the page.
const leastTwice = 0.001

// ruleCommonGround says that stands have ground in common, which counts in each.
var ruleCommonGround = check.Rule{Code: "ground-in-two-stands", Severity: check.Warning, Remedy: "measure the patches named if nobody did, remove one of two records of the same plants, or set stands.min_points to 2, so that two plants near each other make one stand"}

// tellCommonGround reports how many acres count more than once, since stands have ground in common.
func (c *computation) tellCommonGround() error {
	var infested geo.SquareMeters
	for i := range c.run.Stands {
		infested += c.run.Stands[i].Infested
	}
	at := func(i int32) *stand.Stand { return &c.run.Stands[c.place[i]].Stand }
	common := lineage.CommonGround(len(c.place), at, c.host.Goroutines())
	if float64(common.Twice) < leastTwice*float64(infested) || common.Twice == 0 {
		return nil
	}
	c.report(check.Finding{
		Rule: ruleCommonGround, File: mapfile.StandsTable, Field: "infested_acres",
		Message: fmt.Sprintf("%d stands have ground in common with others, and it counts in each: %s of %s infested acres count twice or more; most in %s and %s, %s acres",
			common.Stands, acres(common.Twice), acres(infested), at(common.Largest[0]).ID, at(common.Largest[1]).ID, acres(common.Shared)),
	})
	return nil
}

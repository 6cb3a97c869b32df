package unit

import (
	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

// Options are the settings of Check.
type Options struct {
	FindingLimit int // as check.Log.Limit
}

// Check finishes the reporting units of one batch, from all its files together. It rejects units
// without area, repairs outlines that cross themselves, and makes longitudes continuous across the
// antimeridian. It makes missing ids from file and row, joins features with the same id and name
// into one unit, and makes other repeated ids unique. It reports overlaps and gaps. It returns the
// units sorted by id, with digits sorted as numbers, and the findings: each rejected feature has an
// Error. The result depends on the set of features, not on their order. It reuses the slice and its
// geometry.
func Check(units []Unit, o Options) ([]Unit, []check.Finding) {
	c := checker{check.Checker[Unit]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}}
	c.Settle = c.join
	kept := c.Unify(c.Accept(units, c.place))
	c.partition(kept)
	return kept, c.Findings()
}

// place checks every vertex, makes longitudes continuous and repairs the outline; false means
// rejected.
func (c *checker) place(u *Unit) bool {
	var rings []orb.Ring
	for _, polygon := range u.Areas {
		rings = append(rings, polygon...)
	}
	if !check.Placed(&c.Checker, u, rings) {
		return false
	}
	if len(rings) == 0 {
		c.Report(u, ruleEmpty, "geometry", "", "the unit has no outline; it was rejected")
		return false
	}
	earth.RunOnAreas(u.Areas)
	return c.repair(u)
}

// repair makes the outline enclose each place only once; false means rejected.
func (c *checker) repair(u *Unit) bool {
	areas, faulty := shape.Mend(u.Areas)
	if len(areas) == 0 || !(earth.Area(areas) > 0) {
		c.Report(u, ruleNoArea, "geometry", "", "the outline encloses no ground; the unit was rejected")
		return false
	}
	if faulty {
		c.Report(u, ruleRepaired, "geometry", "", "the outline crosses or touches itself; it was repaired")
	}
	u.Areas = areas
	return true
}

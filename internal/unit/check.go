package unit

import (
	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/check"
)

// Options says how Check reports.
type Options struct {
	FindingLimit int // as check.Log.Limit
}

// Check finishes the reporting units of one batch, of all their files together:
// rejects those that enclose no ground, repairs outlines that cross themselves,
// makes longitudes run on across the antimeridian, makes missing ids from file and
// row, joins features of one id and name into one unit, makes other repeated
// ids unique, and reports overlaps and of gaps. It returns the units sorted by id, runs of digits by their value,
// with what it found: each feature it rejected has an Error. The answer depends on
// the set of features, not on their order. It takes the slice and its geometry
// over.
func Check(units []Unit, o Options) ([]Unit, []check.Finding) {
	c := checker{check.Checker[Unit]{Kind: kind, Log: check.Log{Limit: o.FindingLimit}}}
	c.Settle = c.join
	kept := c.Unify(c.Accept(units, c.place))
	c.partition(kept)
	return kept, c.Findings()
}

type checker struct{ check.Checker[Unit] }

// kind is how units are told apart and reported.
var kind = check.Kind[Unit]{
	Noun: "unit", Corner: "corner", Misplaced: misplaced, Duplicate: ruleDuplicate,
	Origin: func(u *Unit) (string, int) { return u.File, u.Row },
	At: func(u *Unit) *orb.Point {
		if len(u.Areas) == 0 {
			return nil
		}
		return check.ShownFirst(u.Areas[0])
	},
	Compare: compareContent,
	Names: &check.Names[Unit]{
		Field: "unit_id", ID: func(u *Unit) *string { return &u.ID }, Compare: check.CompareNatural,
		NoID: ruleNoID, SameID: ruleSameID, Other: "a unit of another name has the same id",
	},
}

// place looks at every vertex, makes longitudes run on and repairs the outline;
// false means rejected.
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

// repair makes the outline one that encloses each place once; false means rejected.
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

package unit

import (
	"fmt"
	"slices"

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
// ids unique, and tells of overlaps and of gaps. It returns the units sorted by id, runs of digits by their value,
// with what it found: each feature it rejected has an Error. The answer depends on
// the set of features, not on their order. It takes the slice and its geometry
// over.
func Check(units []Unit, o Options) ([]Unit, []check.Finding) {
	c := checker{log: check.Log{Limit: o.FindingLimit}}
	made := map[string]bool{}
	kept := units[:0]
	for i := range units {
		u := units[i]
		if !c.place(&u) {
			continue
		}
		if u.ID == "" {
			u.ID = check.MadeID(u.File, u.Row)
			made[u.ID] = true
			c.report(&u, ruleNoID, "unit_id", "", "the unit has no id; "+u.ID+" was made from file and row")
		}
		kept = append(kept, u)
	}
	kept = c.unify(kept, made)
	c.partition(kept)
	return kept, c.log.Findings()
}

type checker struct{ log check.Log }

// place looks at every vertex, makes longitudes run on and repairs the outline;
// false means rejected.
func (c *checker) place(u *Unit) bool {
	var rings []orb.Ring
	for _, polygon := range u.Areas {
		rings = append(rings, polygon...)
	}
	at, why := check.PathsOf(rings)
	switch text := fmt.Sprintf("%g %g", at[0], at[1]); why {
	case check.NotFinite:
		c.report(u, ruleNotFinite, "geometry", text, "a coordinate is not a finite number; the unit was rejected")
		return false
	case check.NullIsland:
		c.report(u, ruleNullIsland, "geometry", text, "a corner is 0, 0; the unit was rejected")
		return false
	case check.OutOfRange:
		c.report(u, ruleOutOfRange, "geometry", text, "a corner is outside the range of degrees; the unit was rejected")
		return false
	}
	if len(rings) == 0 {
		c.report(u, ruleEmpty, "geometry", "", "the unit has no outline; it was rejected")
		return false
	}
	earth.RunOnAreas(u.Areas)
	return c.repair(u)
}

// repair makes the outline one that encloses each place once; false means rejected.
func (c *checker) repair(u *Unit) bool {
	areas, changed := shape.MakeValid(u.Areas)
	if len(areas) == 0 || !(earth.Area(areas) > 0) {
		c.report(u, ruleNoArea, "geometry", "", "the outline encloses no ground; the unit was rejected")
		return false
	}
	// parts that only lie side by side, as on both sides of the antimeridian, are
	// joined without a word
	if changed && slices.ContainsFunc(u.Areas, func(p orb.Polygon) bool { return shape.Valid(orb.MultiPolygon{p}) != nil }) {
		c.report(u, ruleRepaired, "geometry", "", "the outline crosses or touches itself; it was repaired")
	}
	if changed {
		u.Areas = areas
	}
	return true
}

// label returns what findings call the unit: its id, or "row 12" without one.
func (u *Unit) label() string { return check.Label(u.ID, u.File, u.Row) }

func (c *checker) report(u *Unit, rule check.Rule, field, value, message string) {
	f := check.Finding{Rule: rule, File: u.File, Record: u.label(), Field: field, Value: value, Message: message}
	if len(u.Areas) > 0 && len(u.Areas[0]) > 0 && len(u.Areas[0][0]) > 0 {
		if at := u.Areas[0][0][0]; check.PositionOf(at) == check.WellPlaced {
			f.Position = &orb.Point{earth.Turned(at[0]), at[1]}
		}
	}
	c.log.Add(f)
}

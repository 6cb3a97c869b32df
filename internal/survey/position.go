package survey

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

// largestAngle is the largest number that may be a mistyped angle in degrees. A larger number is a
// length in a projection.
const largestAngle = 360

// widestPatch is the largest extent of a drawn patch in degrees, from its first vertex. Our choice: 5,
// hundreds of kilometres; anything larger is a map of countries.
const widestPatch = 5

func (c *checker) checkPosition(r *Record) bool {
	if rule, message := judge(r.Position); rule.Code != "" {
		return c.rejectPosition(r, rule, r.Position, message)
	}
	for _, polygon := range r.Outline {
		for _, ring := range polygon {
			for _, p := range ring {
				if !inRange(p) {
					rule, message := judge(p)
					return c.rejectPosition(r, rule, p, "in the outline, "+message)
				}
				first := r.Outline[0][0][0]
				if math.Abs(math.Remainder(p[0]-first[0], 360)) > widestPatch || math.Abs(p[1]-first[1]) > widestPatch {
					return c.rejectPosition(r, ruleOutOfRange, p, "the outline reaches over more than 5 degrees and is no patch")
				}
			}
		}
	}
	return true
}

func (c *checker) rejectPosition(r *Record, rule check.Rule, at orb.Point, message string) bool {
	value := check.Number(at.Lon()) + " " + check.Number(at.Lat())
	c.Report(r, rule, "position", value, message+"; the record was rejected")
	return false
}

// judge returns the rule that a position violates, or none.
func judge(p orb.Point) (check.Rule, string) {
	lon, lat := p.Lon(), p.Lat()
	switch {
	case math.IsNaN(lon) || math.IsNaN(lat):
		return ruleNoPosition, "the record has no position"
	case lon == 0 && lat == 0:
		return ruleNullIsland, "the position is 0, 0"
	case inRange(p):
		return check.Rule{}, ""
	case math.Abs(lat) > 90 && inRange(orb.Point{lat, lon}):
		return ruleSwapped, "latitude is out of range, and longitude and latitude fit the other way round"
	case math.Abs(lon) > largestAngle || math.Abs(lat) > largestAngle:
		return ruleProjected, "the coordinates look projected, not degrees"
	}
	return ruleOutOfRange, "the position is outside the range of degrees"
}

// inRange says whether p is a longitude and latitude; NaN is out of range.
func inRange(p orb.Point) bool {
	return math.Abs(p.Lon()) <= 180 && math.Abs(p.Lat()) <= 90
}

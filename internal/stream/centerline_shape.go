package stream

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

// checkPath checks and repairs the line itself; false means rejected.
func (c *checker) checkPath(l *Centerline) bool {
	if len(l.Path) == 0 {
		return c.reject(l, ruleEmpty, "", "the line has no vertices")
	}
	for i, p := range l.Path {
		if inRange(p) {
			continue
		}
		if rule, message := judge(p); rule.Code != "" && !wrappable(l.Path) {
			return c.reject(l, rule, check.Number(p[0])+" "+check.Number(p[1]), fmt.Sprintf("vertex %d: %s", i+1, message))
		}
		c.wrap(l)
		break
	}
	before := len(l.Path)
	l.Path = distinct(l.Path)
	switch {
	case before == 1:
		return c.reject(l, ruleOneVertex, "", "the line has one vertex")
	case len(l.Path) == 1:
		return c.reject(l, ruleZeroLength, "", "all vertices of the line are at one place")
	case len(l.Path) < before:
		c.Report(l, ruleRepeated, "geometry", "", fmt.Sprintf("%d vertices repeat the one before them; they were dropped", before-len(l.Path)))
	}
	if !l.Coast { // the coast of an island is closed, and no water flows along it
		c.checkShape(l)
	}
	return true
}

func (c *checker) reject(l *Centerline, rule check.Rule, value, message string) bool {
	c.Report(l, rule, "geometry", value, message+"; the line was rejected")
	return false
}

func (c *checker) checkShape(l *Centerline) {
	if l.Path[0] == l.Path[len(l.Path)-1] {
		c.Report(l, ruleClosed, "geometry", "", "the line ends where it begins; it was kept")
	}
	if p, crosses := c.crosser.crossing(l.Path); crosses {
		c.reportAt(l, ruleCrossing, p, "the line crosses or touches itself; it was kept")
	}
}

// largestAngle is the largest number that can be a mistyped angle in degrees: beyond a full turn it
// must be a length in a projection.
const largestAngle = 360

// judge returns the rule that a vertex out of range breaks.
func judge(p orb.Point) (check.Rule, string) {
	lon, lat := p[0], p[1]
	switch {
	case math.IsNaN(lon-lon) || math.IsNaN(lat-lat):
		return ruleNotFinite, "a coordinate is not a finite number"
	case math.Abs(lat) > 90 && inRange(orb.Point{lat, lon}):
		return ruleSwapped, "latitude is out of range, and longitude and latitude fit the other way round"
	case math.Abs(lon) > largestAngle || math.Abs(lat) > largestAngle:
		return ruleProjected, "the coordinates look projected, not degrees"
	}
	return ruleOutOfRange, "the position is outside the range of degrees"
}

// inRange says whether p is a longitude and latitude; NaN is not.
func inRange(p orb.Point) bool {
	return math.Abs(p[0]) <= 180 && math.Abs(p[1]) <= 90
}

// wrappable says whether a path was drawn continuously across the antimeridian: part of it is in
// range, and the rest less than a turn away.
func wrappable(path orb.LineString) bool {
	inside := false
	for _, p := range path {
		if !(math.Abs(p[0]) <= 360 && math.Abs(p[1]) <= 90) {
			return false
		}
		inside = inside || math.Abs(p[0]) <= 180
	}
	return inside
}

func (c *checker) wrap(l *Centerline) {
	for i, p := range l.Path {
		switch {
		case p[0] > 180:
			l.Path[i][0] = p[0] - 360
		case p[0] < -180:
			l.Path[i][0] = p[0] + 360
		}
	}
	c.Report(l, ruleWrapped, "geometry", "", "the line runs past 180 degrees of longitude; its longitudes were brought into range")
}

// distinct removes repeated vertices, in place.
func distinct(path orb.LineString) orb.LineString {
	kept := 1
	for _, p := range path[1:] {
		if p != path[kept-1] {
			path[kept] = p
			kept++
		}
	}
	return path[:kept]
}

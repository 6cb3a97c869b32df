package work

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// place looks at every vertex and makes longitudes run on; false means rejected.
func (c *checker) place(w *Work) bool {
	paths := w.Paths()
	vertices := 0
	for _, path := range paths {
		vertices += len(path)
		for _, p := range path {
			switch at := fmt.Sprintf("%g %g", p[0], p[1]); {
			case math.IsNaN(p[0]-p[0]) || math.IsNaN(p[1]-p[1]):
				c.report(w, ruleNotFinite, "geometry", at, "a coordinate is not a finite number; the work was rejected")
				return false
			case p[0] == 0 && p[1] == 0:
				c.report(w, ruleNullIsland, "geometry", at, "a position is 0, 0; the work was rejected")
				return false
			case !inRange(p):
				c.report(w, ruleOutOfRange, "geometry", at, "a position is outside the range of degrees; the work was rejected")
				return false
			}
		}
	}
	if vertices == 0 {
		c.report(w, ruleEmpty, "geometry", "", "the work has no place; it was rejected")
		return false
	}
	for i := range w.Points {
		w.Points[i][0] = turned(w.Points[i][0])
	}
	for _, line := range w.Lines {
		runOn(line, line[0])
	}
	for _, polygon := range w.Areas {
		first := w.Areas[0][0][0] // parts on both sides of the antimeridian stay together
		for _, ring := range polygon {
			runOn(orb.LineString(ring), first)
		}
	}
	return true
}

// inRange says whether p is a latitude and a longitude, which may run past 180.
func inRange(p orb.Point) bool { return math.Abs(p[0]) <= 360 && math.Abs(p[1]) <= 90 }

// turned brings a longitude to -180..180.
func turned(lon float64) float64 {
	if math.Abs(lon) <= 180 {
		return lon
	}
	return lon - 360*math.Round(lon/360)
}

// runOn takes each vertex the shorter way round from the one before, the first
// from a place that is brought into range.
func runOn(path orb.LineString, from orb.Point) {
	last := turned(from[0])
	for i := range path {
		path[i][0] = last + turned(path[i][0]-last)
		last = path[i][0]
	}
}

package linear

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// BesidePoint returns the places so many metres to the left and to the right of a line at a
// measure along it, looking the way it runs, degrees; p is the place at the measure, as
// PointAt returns it, and measures are those of Measure, beyond the ends taken as the ends.
// The line's direction there is that of its segment. A line without a length has the place
// itself on both sides. Within 1e-6 of the distance up to 10 km. Logarithmic.
func BesidePoint(ls orb.LineString, measures []float64, at geo.Meters, p orb.Point, away geo.Meters) (left, right orb.Point) {
	i := segmentAt(measures, float64(at))
	for i > 0 && measures[i] == measures[i+1] {
		i-- // a vertex twice has no direction
	}
	if len(ls) < 2 {
		return p, p
	}
	frame := earth.NewFrame(p)
	a, b := frame.Forward(ls[i]), frame.Forward(ls[i+1])
	dx, dy := b[0]-a[0], b[1]-a[1]
	length := math.Hypot(dx, dy)
	if length == 0 {
		return p, p
	}
	x, y := -dy/length*float64(away), dx/length*float64(away)
	return frame.Inverse(orb.Point{x, y}), frame.Inverse(orb.Point{-x, -y})
}

// Beyond returns the place so many metres past another, straight on as seen from a third,
// degrees; the other itself where the two are one. Good up to some kilometres.
func Beyond(from, at orb.Point, by geo.Meters) orb.Point {
	frame := earth.NewFrame(at)
	p := frame.Forward(from)
	length := math.Hypot(p[0], p[1])
	if length == 0 {
		return at
	}
	return frame.Inverse(orb.Point{-p[0] / length * float64(by), -p[1] / length * float64(by)})
}

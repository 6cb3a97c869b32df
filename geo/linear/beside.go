package linear

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// BesidePoint returns the places a distance away to the left and right of a line, in degrees, as
// seen in the line's direction. at is the measure along the line and p the place there, as from
// PointAt. Measures are those of earth.LengthsAlong; one beyond an end counts as the end. The direction
// is that of the segment. For a line of length 0 both places are p. Within 1e-6 of the distance up to
// 10 km. Logarithmic.
func BesidePoint(ls orb.LineString, measures []geo.Meters, at geo.Meters, p orb.Point, away geo.Meters) (left, right orb.Point) {
	i := segmentAt(measures, at)
	for i > 0 && measures[i] == measures[i+1] {
		i-- // a repeated vertex has no direction
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

// Beyond continues the straight line between two places past the second, at, by a distance, and
// returns the place there in degrees; at itself where the two are the same. Good up to some
// kilometres.
func Beyond(from, at orb.Point, by geo.Meters) orb.Point {
	frame := earth.NewFrame(at)
	p := frame.Forward(from)
	length := math.Hypot(p[0], p[1])
	if length == 0 {
		return at
	}
	return frame.Inverse(orb.Point{-p[0] / length * float64(by), -p[1] / length * float64(by)})
}

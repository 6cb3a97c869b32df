package linear

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// NearestOnLine returns the place of a planar line, in metres, nearest to xy: its segment, the
// fraction along it, 0 to 1, and the distance. Of equally near places it takes the first. A line of
// one vertex gives segment 0, fraction 0; a line without vertices an infinite distance. Linear,
// about 2 ns a segment.
func NearestOnLine(xy orb.Point, path orb.LineString) (segment int, fraction float64, d geo.Meters) {
	if len(path) == 0 {
		return 0, 0, geo.Meters(math.Inf(1))
	}
	if len(path) == 1 {
		return 0, 0, geo.Meters(math.Hypot(path[0][0]-xy[0], path[0][1]-xy[1]))
	}
	best := math.Inf(1)
	ax, ay := path[0][0]-xy[0], path[0][1]-xy[1]
	for i := 1; i < len(path); i++ {
		bx, by := path[i][0]-xy[0], path[i][1]-xy[1]
		if d2, t := fromOrigin(ax, ay, bx, by); d2 < best {
			best, segment, fraction = d2, i-1, t
		}
		ax, ay = bx, by
	}
	return segment, fraction, geo.Meters(math.Sqrt(best))
}

// fromOrigin returns the square of the distance from the origin to the segment
// from a to b, and the fraction of the segment at which it is nearest.
func fromOrigin(ax, ay, bx, by float64) (squared, fraction float64) {
	dx, dy := bx-ax, by-ay
	dot := -(ax*dx + ay*dy)
	if dot <= 0 {
		return ax*ax + ay*ay, 0
	}
	length := dx*dx + dy*dy
	if dot >= length {
		return bx*bx + by*by, 1
	}
	t := dot / length
	x, y := ax+t*dx, ay+t*dy
	return x*x + y*y, t
}

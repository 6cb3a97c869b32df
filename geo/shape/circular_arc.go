package shape

import (
	"math"

	"github.com/paulmach/orb"
)

// arcStep is the angle between neighbouring vertices of an arc. Our choice: one degree, within 4 cm
// of an arc of 1 km radius and 0.005 % of a circle's area.
const arcStep = math.Pi / 180

// Arc appends to path, which ends at a, the vertices of the circular arc from a through b to c,
// including c, in the plane of the coordinates: at least one vertex for each degree of turning.
// Where a equals c the arc is the whole circle with b opposite a (ISO 13249-3, ST_CircularString).
// Three places in a line, or a coordinate that is not a number, give the straight lines. At most
// 360 vertices.
func Arc(path []orb.Point, a, b, c orb.Point) []orb.Point {
	center := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	turn := 2 * math.Pi
	if a != c {
		// relative to a, so that squares of large coordinates lose no digits
		bx, by, cx, cy := b[0]-a[0], b[1]-a[1], c[0]-a[0], c[1]-a[1]
		d := 2 * (bx*cy - by*cx)
		b2, c2 := bx*bx+by*by, cx*cx+cy*cy
		center = orb.Point{a[0] + (cy*b2-by*c2)/d, a[1] + (bx*c2-cx*b2)/d}
		turn = sweep(center, a, b) + sweep(center, b, c)
		if clockwise := d < 0; clockwise {
			turn = -sweep(center, c, b) - sweep(center, b, a)
		}
	}
	radius := math.Hypot(a[0]-center[0], a[1]-center[1])
	if radius == 0 || math.IsNaN(radius-radius) || math.IsNaN(turn) {
		return append(path, b, c)
	}
	begin := math.Atan2(a[1]-center[1], a[0]-center[0])
	n := int(math.Ceil(math.Abs(turn)/arcStep - 1e-9)) // without the margin, rounding could add a step to a whole number of degrees
	for i := 1; i < n; i++ {
		sin, cos := math.Sincos(begin + turn*float64(i)/float64(n))
		path = append(path, orb.Point{center[0] + radius*cos, center[1] + radius*sin})
	}
	return append(path, c)
}

// sweep is the angle from p to q round a center, counter-clockwise, 0 to a full turn.
func sweep(center, p, q orb.Point) float64 {
	angle := math.Atan2(q[1]-center[1], q[0]-center[0]) - math.Atan2(p[1]-center[1], p[0]-center[0])
	if angle < 0 {
		angle += 2 * math.Pi
	}
	return angle
}

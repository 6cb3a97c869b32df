package earth

import (
	"math"

	"driftreach/geo"

	"github.com/paulmach/orb"
)

// chordLimit is the chord in metres up to which the curvature correction of
// chordToArc is used; its error grows as the fifth power and is below 1e-8 m
// here. Our choice.
const chordLimit = 50e3

// Distance returns the geodesic distance in metres between two points on the
// WGS 84 ellipsoid. Up to 50 km it comes from the chord and the curvature of
// the ellipsoid along it, error
// below 1e-8 m; beyond, from Ellipsoid.Inverse. Right across the antimeridian
// and at the poles. About 65 ns.
func Distance(p, q orb.Point) geo.Meters {
	s, ok := chordToArc(ECEF(p), ECEF(q))
	if !ok {
		return geo.Meters(wgs84Geodesic.inverse(p, q).s12)
	}
	return geo.Meters(s)
}

// LineLength returns the sum of Distance along a line, in metres.
func LineLength(ls orb.LineString) geo.Meters {
	if len(ls) == 0 {
		return 0
	}
	sum := 0.0
	last := ECEF(ls[0])
	for i, p := range ls[1:] {
		next := ECEF(p)
		s, ok := chordToArc(last, next)
		if !ok {
			s = wgs84Geodesic.inverse(ls[i], p).s12
		}
		sum += s
		last = next
	}
	return geo.Meters(sum)
}

// chordToArc returns the geodesic length in metres between two positions on the
// ellipsoid, and false when they are too far apart. With chord c and normal
// curvature k of the ellipsoid at the middle in the direction of the chord
// (gradient and Hessian of its equation), s = c (1 + t/24 - 11 t^2/1920), t = k^2 c^2:
// the arc of the circle that fits, k being taken at the middle of the chord, not
// of the arc. Odd terms vanish at the middle.
func chordToArc(p, q [3]float64) (s float64, ok bool) {
	dx, dy, dz := q[0]-p[0], q[1]-p[1], q[2]-p[2]
	c2 := dx*dx + dy*dy + dz*dz
	if !(c2 <= chordLimit*chordLimit) {
		return 0, false
	}
	x, y, z := (p[0]+q[0])/2, (p[1]+q[1])/2, (p[2]+q[2])*polarWeight/2
	// curvature times chord, squared
	h := dx*dx + dy*dy + dz*dz*polarWeight
	t := h * h / (c2*(x*x+y*y+z*z) + smallest)
	return math.Sqrt(c2) * (1 + t*(1./24-t*11/1920)), true
}

// polarWeight is (a/b)^2 of WGS 84.
var polarWeight = 1 / (1 - wgs84E2)

// smallest keeps a chord of no length from dividing by 0.
const smallest = 0x1p-1022

package earth

import (
	"math"

	"driftreach/geo"

	"github.com/paulmach/orb"
)

// chordLimit is the longest chord, in metres, for which distanceBetween uses its short formula. The
// error grows with the fifth power and is below 1e-8 m here. Our choice.
const chordLimit = 50e3

// Distance returns the geodesic distance in metres between two points on the
// WGS 84 ellipsoid. Up to 50 km it comes from the chord and the curvature of the
// ellipsoid along it, error below 1e-8 m; beyond, from Ellipsoid.Inverse. Right
// across the antimeridian and at the poles. About 55 ns.
func Distance(p, q orb.Point) geo.Meters {
	return geo.Meters(distanceBetween(p, q, newMeridian(p[1]), newMeridian(q[1])))
}

// LineLength returns the sum of Distance along a line, in metres. About 45 ns a
// vertex.
func LineLength(ls orb.LineString) geo.Meters {
	if len(ls) == 0 {
		return 0
	}
	sum, last := 0.0, newMeridian(ls[0][1])
	for i, p := range ls[1:] {
		next := newMeridian(p[1])
		sum += distanceBetween(ls[i], p, last, next)
		last = next
	}
	return geo.Meters(sum)
}

// LengthsAlong returns the measures of a line: by vertex LineLength up to it, to the last bit, 0 at the
// first; nil for a line without vertices. About 45 ns a vertex.
func LengthsAlong(ls orb.LineString) []geo.Meters {
	if len(ls) == 0 {
		return nil
	}
	sums, last := make([]geo.Meters, len(ls)), newMeridian(ls[0][1])
	for i, p := range ls[1:] {
		next := newMeridian(p[1])
		sums[i+1] = sums[i] + geo.Meters(distanceBetween(ls[i], p, last, next))
		last = next
	}
	return sums
}

// meridian is a place on a meridian of WGS 84: metres from the axis and above
// the equator's plane.
type meridian struct{ r, z float64 }

func newMeridian(lat float64) meridian {
	sin, cos := sincosDegrees(lat)
	n := WGS84.A / math.Sqrt(1-wgs84E2*sin*sin)
	return meridian{n * cos, n * (1 - wgs84E2) * sin}
}

// distanceBetween is Distance with the places on the meridians already computed. With chord c and
// normal curvature k of the ellipsoid at the chord's middle, in the direction of the chord
// (gradient and Hessian of its equation), s = c (1 + t/24 - 11 t^2/1920), t = k^2 c^2: the arc of
// the fitting circle, with k at the middle of the chord, not of the arc. Odd terms vanish at the
// middle. Derived by hand.
func distanceBetween(p, q orb.Point, a, b meridian) float64 {
	sin, cos := sincosDegrees(longitudeDifference(p[0], q[0]))
	dx, dy, dz := b.r*cos-a.r, b.r*sin, b.z-a.z
	dr2 := dx*dx + dy*dy
	c2 := dr2 + dz*dz
	if !(c2 <= chordLimit*chordLimit) {
		return wgs84Geodesic.inverse(p, q).s12
	}
	// gradient at the middle and curvature along the chord, both times a^2
	x, y, z := (b.r*cos+a.r)/2, dy/2, (a.z+b.z)/2*polarWeight
	h := dr2 + dz*dz*polarWeight
	t := h * h / (c2*(x*x+y*y+z*z) + smallest)
	return math.Sqrt(c2) * (1 + t*(1./24-t*11/1920))
}

// polarWeight is (a/b)^2 of WGS 84.
var polarWeight = 1 / (1 - wgs84E2)

// smallest keeps a chord of length 0 from dividing by 0.
const smallest = 0x1p-1022

package earth

import (
	"math"

	"github.com/paulmach/orb"
)

const (
	// shortNorth and shortEast are the longest edges that ringAreaShort accepts, in degrees: about
	// 3.3 km and, at 60 degrees, the same. The error of an edge grows with the fifth power of its
	// length and is below 1e-4 m2 here. Our choice.
	shortNorth, shortEast = 0.03, 0.06
	// shortLatitude is the highest latitude it accepts, in degrees: the series is in longitude,
	// which grows without limit towards the poles. Our choice.
	shortLatitude = 72
)

// areaVertex holds the values needed at each end of an edge.
type areaVertex struct {
	z           float64 // sine of authalic latitude
	sin, p2, m2 float64 // sine of latitude; radii of parallel and meridian, squared, m2
}

func newAreaVertex(lat float64) areaVertex {
	s, c := sincosDegrees(lat)
	z, _ := wgs84Authalic.sincos(s, c)
	w := 1 / (1 - wgs84E2*s*s)
	p2 := WGS84.A * WGS84.A * c * c * w
	m := WGS84.A * (1 - wgs84E2) * w
	return areaVertex{z: z, sin: s, p2: p2, m2: m * m * w}
}

// ringAreaShort returns the area in square metres, positive counter-clockwise,
// of a ring whose edges are all short, and false when one is not. The area
// between an edge and the equator is that of the trapezoid in the cylindrical
// equal-area plane (z, lambda) plus the bulge of the geodesic beyond the
// straight edge: with Clairaut's p sin(alpha) = constant,
// R^2 d2z/dlam2 = -sin(phi) p^2 (1 + 3 cot^2 alpha), so the bulge of an edge is
// sin(phi)/12 dlam (p^2 dlam^2 + 3 M^2 dphi^2); derived by hand.
func ringAreaShort(r orb.Ring) (area float64, ok bool) {
	if len(r) < 3 {
		return 0, true
	}
	last := r[len(r)-1]
	a := newAreaVertex(last[1])
	z0, r2 := a.z, wgs84Authalic.radius*wgs84Authalic.radius
	for _, p := range r {
		dLat, dLon := p[1]-last[1], longitudeDifference(last[0], p[0])
		b := newAreaVertex(p[1])
		if !(math.Abs(dLat) <= shortNorth && math.Abs(dLon) <= shortEast && math.Abs(p[1]) <= shortLatitude) {
			return 0, false
		}
		lam, phi := dLon*radiansPerDegree, dLat*radiansPerDegree
		bulge := (a.sin + b.sin) * ((a.p2+b.p2)*lam*lam + 3*(a.m2+b.m2)*phi*phi) / 48
		area -= lam * (r2*((a.z-z0)+(b.z-z0))/2 + bulge)
		last, a = p, b
	}
	return area, true
}

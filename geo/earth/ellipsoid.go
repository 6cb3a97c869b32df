// Package earth measures on the ellipsoid: geodesic lengths and areas, map
// projections, and the local metric frame that all planar work is done in.
// Positions are orb.Point{longitude, latitude} in degrees; azimuths are degrees
// clockwise from north; lengths are metres. It knows no plants.
package earth

import "math"

// Ellipsoid is an oblate ellipsoid of revolution: equatorial radius A in metres
// and flattening F, 0 (a sphere) to 0.02.
type Ellipsoid struct{ A, F float64 }

var (
	// WGS84 is the ellipsoid of every longitude and latitude that the program
	// reads or writes. NGA.STND.0036, table 3.1.
	WGS84 = Ellipsoid{A: 6378137, F: 1 / 298.257223563}
	// GRS80 is the ellipsoid of NAD 83 and ETRS89. Moritz, Geodetic Reference
	// System 1980, Bulletin Geodesique 54(3).
	GRS80 = Ellipsoid{A: 6378137, F: 1 / 298.257222101}
	// WebMercatorSphere is the sphere that web maps take WGS 84 positions to lie
	// on. EPSG method 1024.
	WebMercatorSphere = Ellipsoid{A: 6378137, F: 0}
)

// B returns the polar radius in metres.
func (e Ellipsoid) B() float64 { return e.A * (1 - e.F) }

// E2 returns the square of the first eccentricity.
func (e Ellipsoid) E2() float64 { return e.F * (2 - e.F) }

// N returns the third flattening (A-B)/(A+B), in which the series converge
// fastest.
func (e Ellipsoid) N() float64 { return e.F / (2 - e.F) }

// Eccentricity returns the first eccentricity.
func (e Ellipsoid) Eccentricity() float64 { return math.Sqrt(e.E2()) }

// LocalScale returns how many metres one degree of longitude and of latitude
// measure on WGS 84 at a latitude in degrees, -90 to 90: radii of curvature in
// the prime vertical and the meridian (Snyder 1987, equations 4-18 to 4-21). It
// turns a distance into a box of degrees.
func LocalScale(lat float64) (mPerDegLon, mPerDegLat float64) {
	sin, cos := sincosDegrees(lat)
	e2 := WGS84.E2()
	w2 := 1 - e2*sin*sin
	n := WGS84.A / math.Sqrt(w2)
	m := n * (1 - e2) / w2
	return n * cos * radiansPerDegree, m * radiansPerDegree
}

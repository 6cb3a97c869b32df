package flow

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// meanRadius is the radius of the sphere with the volume of WGS 84, metres
// (Moritz, Geodetic Reference System 1980).
const meanRadius = 6371000.79

// arcLength returns the geodesic length of the arc over a chord between two
// earth-centred positions, metres. The series s = c + c^3/24R^2 of a circle with
// the earth's mean radius is within 1e-9 of s up to 10 km, 1e-7 up to 100 km.
func arcLength(a, b [3]float64) float64 {
	x, y, z := b[0]-a[0], b[1]-a[1], b[2]-a[2]
	c2 := x*x + y*y + z*z
	return math.Sqrt(c2) * (1 + c2/(24*meanRadius*meanRadius))
}

// pathLength returns the geodesic length of a path, metres; NaN when a vertex is
// no position.
func pathLength(path orb.LineString) float64 {
	if len(path) == 0 {
		return 0
	}
	var length float64
	last := earth.ECEF(path[0])
	for _, p := range path[1:] {
		at := earth.ECEF(p)
		length += arcLength(last, at)
		last = at
	}
	return length
}

// segmentLength returns the geodesic length between two vertices, metres.
func segmentLength(p, q orb.Point) float64 { return arcLength(earth.ECEF(p), earth.ECEF(q)) }

// separation returns the straight distance between two positions, metres.
func separation(p, q orb.Point) float64 {
	a, b := earth.ECEF(p), earth.ECEF(q)
	x, y, z := b[0]-a[0], b[1]-a[1], b[2]-a[2]
	return math.Sqrt(x*x + y*y + z*z)
}

// usable reports whether every vertex is a position on the globe.
func usable(path orb.LineString) bool {
	for _, p := range path {
		if !(math.Abs(p[0]) <= 540 && math.Abs(p[1]) <= 90) {
			return false
		}
	}
	return true
}

// normal returns a position with its longitude in [-180, 180).
func normal(p orb.Point) orb.Point {
	// adding 0 turns -0 into 0
	return orb.Point{earth.Wrap(p[0]) + 0, p[1] + 0}
}

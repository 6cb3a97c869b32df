package flow

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

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

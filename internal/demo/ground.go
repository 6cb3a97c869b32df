package demo

import (
	"math"

	"github.com/paulmach/orb"
)

// middle is the country's middle in degrees, in open ocean 2000 km from any
// land, so that no real place lies under the invented one. Our choice.
var middle = orb.Point{-128, -38.5}

// degrees returns the longitude and latitude of a place in the country's
// metres, rounded to 7 decimals (1 cm).
func degrees(xy orb.Point) orb.Point {
	// WGS 84 radii of curvature at the middle latitude.
	const a, e2 = 6378137.0, 0.00669437999014
	sin, cos := math.Sincos(middle[1] * math.Pi / 180)
	w := math.Sqrt(1 - e2*sin*sin)
	lat := middle[1] + xy[1]/(a*(1-e2)/(w*w*w))*180/math.Pi
	lon := middle[0] + xy[0]/(a/w*cos)*180/math.Pi
	return orb.Point{round7(lon), round7(lat)}
}

func round7(v float64) float64 { return math.Round(v*1e7) / 1e7 }

// degreesLine returns a path in degrees.
func degreesLine(path []orb.Point) orb.LineString {
	out := make(orb.LineString, len(path))
	for i, p := range path {
		out[i] = degrees(p)
	}
	return out
}

func add(p, q orb.Point) orb.Point { return orb.Point{p[0] + q[0], p[1] + q[1]} }

func span(p, q orb.Point) float64 { return math.Hypot(q[0]-p[0], q[1]-p[1]) }

// ahead returns the place d metres from p in a direction, radians from east.
func ahead(p orb.Point, heading, d float64) orb.Point {
	sin, cos := math.Sincos(heading)
	return orb.Point{p[0] + d*cos, p[1] + d*sin}
}

package demo

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// middle is the middle of the country in degrees. It is in open ocean, 2000 km from any land, so that
// the invented country covers no real place. Our choice.
var middle = orb.Point{-128, -38.5}

// ground is the frame the country is drawn in.
var ground = earth.NewFrame(middle)

// degrees returns the longitude and latitude of a place in the country's
// metres, rounded to 7 decimals (1 cm).
func degrees(xy orb.Point) orb.Point {
	at := ground.Inverse(xy)
	return orb.Point{round7(at[0]), round7(at[1])}
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

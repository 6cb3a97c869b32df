package earth

import (
	"math"

	"github.com/paulmach/orb"
)

// ECEF returns the earth-centred, earth-fixed position, in metres, of a point on
// the WGS 84 ellipsoid at height 0: x towards (0,0), y towards 90 E, z north.
// Rounding is about 1e-9 m. EPSG method 9602.
func ECEF(p orb.Point) [3]float64 {
	sin, cos := sincosDegrees(p[1])
	sinLon, cosLon := sincosDegrees(p[0])
	n := WGS84.A / math.Sqrt(1-wgs84E2*sin*sin)
	return [3]float64{n * cos * cosLon, n * cos * sinLon, n * (1 - wgs84E2) * sin}
}

var wgs84E2 = WGS84.E2()

// Center returns the middle, in degrees, of the smallest box of longitude and
// latitude around the points. The box may cross the antimeridian; it must span
// less than half the globe. The order of the points does not matter. No points give (0, 0).
// Linear.
func Center(points []orb.Point) orb.Point {
	if len(points) == 0 {
		return orb.Point{}
	}
	south, north := math.Inf(1), math.Inf(-1)
	west, east := math.Inf(1), math.Inf(-1)   // longitudes in [-180, 180)
	west2, east2 := math.Inf(1), math.Inf(-1) // longitudes in [0, 360)
	for _, p := range points {
		lon := Wrap(p[0])
		south, north = min(south, p[1]), max(north, p[1])
		west, east = min(west, lon), max(east, lon)
		if lon < 0 {
			lon += 360
		}
		west2, east2 = min(west2, lon), max(east2, lon)
	}
	if east2-west2 < east-west {
		west, east = west2, east2
	}
	return orb.Point{Wrap(west + (east-west)/2), south + (north-south)/2}
}

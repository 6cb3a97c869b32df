package earth

import (
	"math"

	"driftreach/geo"

	"github.com/paulmach/orb"
)

// Area returns the area in square metres, on the WGS 84 ellipsoid, of polygons that do not overlap
// and whose edges are geodesics: outer rings less holes, in any winding. Rings may cross the
// antimeridian, with continuous or wrapped longitudes, and go round a pole; each must be smaller
// than half the globe. Where all edges are shorter than 3 km and within 72 degrees of the equator,
// an edge takes about 25 ns, with an error below 1e-10 of its square and 1e-8 m2 a metre; elsewhere
// half a microsecond and 1e-4 m2. Linear in the vertices.
func Area(mp orb.MultiPolygon) geo.SquareMeters {
	var sum geo.SquareMeters
	for _, p := range mp {
		for i, r := range p {
			if area := RingArea(r); i == 0 {
				sum += area
			} else {
				sum -= area
			}
		}
	}
	return sum
}

// RingArea returns the area in square metres inside a ring of geodesics on the
// WGS 84 ellipsoid, never negative. See Area.
func RingArea(r orb.Ring) geo.SquareMeters {
	area, ok := ringAreaShort(r)
	if !ok {
		area = ringAreaGeodesic(r)
	}
	return geo.SquareMeters(math.Abs(area))
}

// ringAreaGeodesic returns the area, positive when the ring runs
// counter-clockwise. Karney 2013, section 6.
func ringAreaGeodesic(r orb.Ring) float64 {
	g := wgs84Geodesic
	area, turn := 0.0, 0.0
	for i, p := range r {
		l := g.inverseArea(p, r[(i+1)%len(r)])
		area -= l.area
		turn += l.lon12
	}
	return reduceArea(area, turn, 4*math.Pi*g.c2)
}

// reduceArea converts the sum of the areas under a ring's edges to the area of the smaller side of
// the ring. turn is the whole turn of the ring's longitudes, in degrees.
func reduceArea(area, turn, globe float64) float64 {
	// a ring round a pole is too small or too large by one hemisphere
	if int(math.Round(turn/360))&1 != 0 {
		area -= math.Copysign(globe/2, area)
	}
	return math.Remainder(area, globe)
}

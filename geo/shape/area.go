package shape

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Area returns the planar area of mp, less its holes, in any winding. Shoelace formula about each
// ring's first vertex, so that no digits are lost far from the origin. Linear in the vertices.
func Area(mp orb.MultiPolygon) geo.SquareMeters {
	total := 0.0
	for _, p := range mp {
		for i, r := range p {
			total += countedArea(r, i == 0)
		}
	}
	return geo.SquareMeters(total)
}

// countedArea is the area of a ring as it counts: below 0 for a hole.
func countedArea(r orb.Ring, outer bool) float64 {
	a := signedArea(r)
	if (a < 0) == outer {
		a = -a
	}
	return a
}

// signedArea is positive for a counter-clockwise ring; r may be open.
func signedArea(r orb.Ring) float64 {
	if len(r) < 3 {
		return 0
	}
	o, sum := r[0], 0.0
	for i := 1; i+1 < len(r); i++ {
		sum += (r[i][0]-o[0])*(r[i+1][1]-o[1]) - (r[i+1][0]-o[0])*(r[i][1]-o[1])
	}
	return sum / 2
}

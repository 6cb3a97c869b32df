package earth_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// A degree by a degree at the equator: 12308.8 km2 on WGS 84.
func ExampleArea() {
	fmt.Printf("%.1f km2\n", earth.Area(orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}}}})/1e6)
	// Output: 12308.8 km2
}

// A line across the antimeridian has the same length as anywhere else on its parallel.
func ExampleLineLength() {
	fmt.Printf("%.3f km\n", earth.LineLength(orb.LineString{{179.5, 0}, {-179.5, 0}})/1000)
	// Output: 111.319 km
}

// A polygon that continues past 180 degrees is cut in two there (RFC 7946, section 3.1.9).
func ExampleCutPolygon() {
	pieces := earth.CutPolygon(orb.MultiPolygon{{{{179, 0}, {181, 0}, {181, 1}, {179, 1}, {179, 0}}}})
	for _, piece := range pieces {
		fmt.Println(piece.Bound().Min, piece.Bound().Max)
	}
	// Output:
	// [179 0] [180 1]
	// [-180 0] [-179 1]
}

package geo_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// A square with sides of 100 m is a hectare, here in acres.
func ExampleSquareMeters_Acres() {
	fmt.Printf("%.4f acres\n", geo.SquareMeters(100*100).Acres())
	// Output: 2.4711 acres
}

// Areas are added in grains of 1e-10 acre: whole numbers, whose sum is the same in any order.
func ExampleSquareMeters_Grains() {
	half := geo.Acres(0.5).SquareMeters()
	fmt.Println(half.Grains(), geo.OfGrains(3*half.Grains()).Acres())
	// Output: 5000000000 1.5
}

// Holes are subtracted.
func ExamplePolygonArea() {
	square := func(side float64) orb.Ring { return orb.Ring{{0, 0}, {side, 0}, {side, side}, {0, side}, {0, 0}} }
	fmt.Println(geo.PolygonArea(orb.MultiPolygon{{square(10), square(2)}}))
	// Output: 96
}

// The distance of a point from a segment, and the fraction along the segment of the nearest point.
func ExampleSegmentDistance() {
	d, along := geo.SegmentDistance(orb.Point{3, 4}, orb.Point{0, 0}, orb.Point{12, 0})
	fmt.Println(d, along)
	// Output: 4 0.25
}

// Acres as people read them, from hundred-thousandths of an acre: two decimals, more for little.
func ExampleAcresText() {
	fmt.Println(geo.AcresText(1_234_567, 5), geo.AcresText(1_234, 5), geo.AcresText(1, 5))
	// Output: 12.35 0.0123 0.00001
}

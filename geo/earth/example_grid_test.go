package earth_test

import (
	"fmt"
	"log"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// Points near a place, also across the antimeridian. Near may look at a few that are farther.
func ExampleGrid() {
	points := []orb.Point{{179.9995, 10}, {-179.9995, 10}, {20, 10}}
	grid := earth.NewGrid(200)
	for i, p := range points {
		grid.Add(int32(i), p)
	}
	at := orb.Point{180, 10}
	near := 0
	grid.Near(at, func(i int32) bool {
		if earth.Distance(at, points[i]) <= 200 {
			near++
		}
		return true
	})
	fmt.Println(near, "within 200 m")
	// Output: 2 within 200 m
}

// A line that goes on past 180 degrees is cut in two there (RFC 7946, section 3.1.9).
func ExampleCutLine() {
	for _, piece := range earth.CutLine(orb.LineString{{179, 0}, {181, 0}}) {
		fmt.Println(piece)
	}
	// Output:
	// [[179 0] [180 0]]
	// [[-180 0] [-179 0]]
}

// The grid that maps for the field are printed with. On the central meridian of zone 11 the easting is
// 500 km.
func ExampleUTMOf() {
	place, err := earth.UTMOf(orb.Point{-117, 0})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d%c %.0f %.0f\n", place.Zone, place.Band, place.Easting, place.Northing)
	// Output: 11N 500000 0
}

package linear_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/linear"
)

// A piece of a line from one measure to another, in metres along it.
func ExampleCut() {
	line := orb.LineString{{0, 0}, {1, 0}, {2, 0}}
	measures := earth.LengthsAlong(line)
	piece := linear.Cut(line, measures, 55_660, 166_979)
	fmt.Printf("%.0f m long: %.2f\n", measures[2], piece)
	// Output: 222639 m long: [[0.50 0.00] [1.00 0.00] [1.50 0.00]]
}

// A quarter of the way along a line across the antimeridian.
func ExamplePointAt() {
	line := orb.LineString{{179, 10}, {-179, 10}}
	measures := earth.LengthsAlong(line)
	fmt.Printf("%.3f\n", linear.PointAt(line, measures, 54_819))
	// Output: [179.500 10.000]
}

// The nearest point of a line in metres: its segment, the fraction along the segment, the distance.
func ExampleNearestOnLine() {
	segment, along, d := linear.NearestOnLine(orb.Point{12, 5}, orb.LineString{{0, 0}, {10, 0}, {10, 10}})
	fmt.Println(segment, along, d)
	// Output: 1 0.5 2
}

// A vicinity answers for most places near the lines without a search.
func ExampleVicinity_Holds() {
	near := linear.NewVicinity([]orb.LineString{{{10, 50}, {10.001, 50}}}, 500)
	fmt.Println(near.Holds(orb.Point{10.0001, 50.0001}), near.Holds(orb.Point{11, 50}))
	// Output: true false
}

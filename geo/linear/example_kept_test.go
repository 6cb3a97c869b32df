package linear_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/linear"
)

// A line needs few of its vertices to stay within a tenth of itself.
func ExampleKept() {
	line := orb.LineString{{0, 0}, {1, 0.05}, {2, 0}, {2, 3}}
	fmt.Println(linear.Kept(line, 0.1))
	// Output: [true false true true]
}

// A line to the east: its left bank lies to the north.
func ExampleBesidePoint() {
	line := orb.LineString{{0, 0}, {1, 0}}
	left, right := linear.BesidePoint(line, earth.LengthsAlong(line), 0, line[0], 110.574)
	fmt.Printf("%.3f %.3f\n", left.Lat(), right.Lat())
	// Output: 0.001 -0.001
}

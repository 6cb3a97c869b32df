package linear_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/linear"
)

// The index finds the nearer of two meridians, and the nearest point on it.
func ExampleIndex_Nearest() {
	lines := []orb.LineString{{{0, -1}, {0, 1}}, {{1, -1}, {1, 1}}}
	place, found := linear.NewIndex(lines).Nearest(orb.Point{0.9, 0})
	fmt.Printf("%v line %d, %.0f m away\n", found, place.Line, place.Distance)
	// Output: true line 1, 11132 m away
}

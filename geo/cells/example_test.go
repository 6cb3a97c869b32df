package cells_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/cells"
)

// A line that rises by a quarter of a square per square enters the upper row at x 1.4: two squares
// below and two above.
func ExampleAlong() {
	set := cells.Along(orb.LineString{{0.2, 0.7}, {2.2, 1.2}})
	fmt.Println(set)
	fmt.Println(set.Outline()[0][0])
	// Output:
	// [{0 0} {1 0} {1 1} {2 1}]
	// [[0 0] [2 0] [2 1] [3 1] [3 2] [1 2] [1 1] [0 1] [0 0]]
}

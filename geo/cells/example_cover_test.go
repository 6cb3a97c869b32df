package cells_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/cells"
)

// An area of less than a square that has ground in two.
func ExampleCover() {
	fmt.Println(cells.Cover(orb.MultiPolygon{{{{0.5, 0.5}, {1.5, 0.5}, {1.5, 0.9}, {0.5, 0.9}, {0.5, 0.5}}}}))
	// Output: [{0 0} {1 0}]
}

package disjoint_test

import (
	"fmt"

	"driftreach/geo/disjoint"
)

func ExampleSets() {
	sets := disjoint.NewSets(4)
	sets.Union(1, 3)
	fmt.Println(sets.Find(3), sets.Find(2))
	// Output: 1 2
}

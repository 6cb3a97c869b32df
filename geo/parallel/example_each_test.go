package parallel_test

import (
	"fmt"

	"driftreach/geo/parallel"
)

// Each task writes to its own index, so the result is the same for any number of workers.
func ExampleGroup() {
	squares := make([]int, 5)
	var tasks parallel.Group
	tasks.SetLimit(2)
	for i := range squares {
		tasks.Go(func() error {
			squares[i] = i * i
			return nil
		})
	}
	fmt.Println(tasks.Wait(), squares)
	// Output: <nil> [0 1 4 9 16]
}

package parallel_test

import (
	"context"
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

// A number of equal tasks on two workers.
func ExampleEach() {
	lengths := make([]int, 3)
	words := []string{"one", "three", "seventeen"}
	err := parallel.Each(context.Background(), len(words), 2, func(i int) { lengths[i] = len(words[i]) })
	fmt.Println(err, lengths)
	// Output: <nil> [3 5 9]
}

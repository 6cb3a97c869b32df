package parallel_test

import (
	"fmt"

	"driftreach/geo/parallel"
)

// A panic in a task reaches the caller who waits, who can report it and clean up.
func ExampleGuard() {
	err := parallel.Guard(func() error { panic("index out of range") })
	fmt.Println(err != nil)
	// Output: true
}

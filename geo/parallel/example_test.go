package parallel_test

import (
	"fmt"

	"driftreach/geo/parallel"
)

// A panic in a task reaches whoever waits, who can tell it and clean up.
func ExampleGuard() {
	err := parallel.Guard(func() error { panic("index out of range") })
	fmt.Println(err != nil)
	// Output: true
}

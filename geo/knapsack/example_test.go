package knapsack_test

import (
	"fmt"

	"driftreach/geo/knapsack"
)

// Two things of one place share its set-up, item 0; the second needs the first.
func ExampleBest() {
	items := []knapsack.Item{
		{Cost: 2},
		{Value: 1, Cost: 2, Needs: []int32{0}},
		{Value: 9, Cost: 1, Needs: []int32{0, 1}},
		{Value: 4, Cost: 4},
	}
	c := knapsack.Best(items, 5, knapsack.Options{})
	fmt.Println(c.In, c.Value, c.Cost)
	// Output: [true true true false] 10 5
}

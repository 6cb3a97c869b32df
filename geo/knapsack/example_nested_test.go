package knapsack_test

import (
	"fmt"

	"driftreach/geo/knapsack"
)

// What to take first: the piece with the most value for its cost. The third item needs the first, so
// they come together: 8 for 4. The second brings 3 for 3.
func ExampleNested() {
	items := []knapsack.Item{{Value: 1, Cost: 2}, {Value: 3, Cost: 3}, {Value: 7, Cost: 2, Needs: []int32{0}}}
	for _, p := range knapsack.Nested(items, knapsack.Options{}) {
		fmt.Println(p.Items, p.Value, "for", p.Cost)
	}
	// Output:
	// [] 0 for 0
	// [0 2] 8 for 4
	// [1] 3 for 3
}

// Things that lead to each other are one group: 0 and 1 do. They lead to 2, which has a lower number.
func ExampleMutual() {
	links := [][]int32{{1}, {0, 2}, nil}
	group, count := knapsack.Mutual(3, func(i int32) []int32 { return links[i] })
	fmt.Println(group, count)
	// Output: [1 1 0] 2
}

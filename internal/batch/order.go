package batch

import (
	"cmp"
	"slices"

	"driftreach/internal/priority"
)

// order numbers the stands in treatment order, which is also their order in the result.
func (c *computation) order() error {
	jobs := make([]priority.Job, len(c.stands))
	for i := range c.stands {
		jobs[i] = c.toTreat(int32(i))
	}
	numbers, sorted := priority.Order(jobs), make([]int32, len(c.stands))
	for i := range sorted {
		sorted[i] = int32(i)
	}
	slices.SortFunc(sorted, func(a, b int32) int {
		return cmp.Or(cmp.Compare(numbers[a], numbers[b]), cmp.Compare(a, b))
	})
	c.against = priority.Against(jobs)
	c.numbers, c.sorted, c.place = numbers, sorted, places(sorted)
	return nil
}

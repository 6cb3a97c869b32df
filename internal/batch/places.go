package batch

import (
	"slices"
)

// places returns the position of each stand in a sorted list.
func places(sorted []int32) []int32 {
	place := make([]int32, len(sorted))
	for at, i := range sorted {
		place[i] = int32(at)
	}
	return place
}

// inPlaces converts stand indices to indices in the result, in ascending order.
func inPlaces(stands, place []int32) []int32 {
	out := make([]int32, len(stands))
	for i, stand := range stands {
		out[i] = place[stand]
	}
	slices.Sort(out)
	return out
}

package batch

import (
	"slices"
)

// places returns where each stand comes in a sorted list of them.
func places(sorted []int32) []int32 {
	place := make([]int32, len(sorted))
	for at, i := range sorted {
		place[i] = int32(at)
	}
	return place
}

// inPlaces turns indices of stands into their places in the answer, ascending.
func inPlaces(stands, place []int32) []int32 {
	out := make([]int32, len(stands))
	for i, stand := range stands {
		out[i] = place[stand]
	}
	slices.Sort(out)
	return out
}

package disjoint

import (
	"slices"
	"testing"
)

// TestGroup: by hand.
func TestGroup(t *testing.T) {
	of := []int32{2, 0, 2, 3, 0}
	start, list := Group(5, len(of), func(i int) int32 { return of[i] })
	if !slices.Equal(start, []int32{0, 2, 2, 4, 5, 5}) || !slices.Equal(list, []int32{1, 4, 0, 2, 3}) {
		t.Errorf("%v, %v", start, list)
	}
}

package main

import "testing"

// By hand: growing by 48 MB is 600 % of the 8 MB that a file of 1 MB comes to, and 60 % of 80 MB.
func TestASmallPartCollectsSeldom(t *testing.T) {
	for file, want := range map[int64]int{0: 400, 1e6: 400, 3e6: 200, 10e6: 60, 12e6: 50, 1e9: 50} {
		if got := collectOfPart(file); got != want {
			t.Errorf("a part of %d bytes lets the heap grow by %d %%, want %d", file, got, want)
		}
	}
}

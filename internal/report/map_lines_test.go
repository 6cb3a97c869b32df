package report

import "testing"

// TestSnapToACoarserGrid: to the nearest step, halves away from 0, on both sides of 0.
func TestSnapToACoarserGrid(t *testing.T) {
	tr := newTracer(&view{})
	for _, c := range []struct {
		step     int32
		at, want dot
	}{
		{1, dot{-5, 7}, dot{-5, 7}},
		{4, dot{-5, 5}, dot{-4, 4}}, {4, dot{-6, 6}, dot{-8, 8}}, {4, dot{-1, 1}, dot{0, 0}}, {4, dot{0, -8}, dot{0, -8}},
	} {
		if got := tr.snap(c.at, c.step); got != c.want {
			t.Errorf("%v in steps of %d: %v, want %v", c.at, c.step, got, c.want)
		}
	}
}

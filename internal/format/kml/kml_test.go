package kml

import "testing"

// TestBlankRuns counts by hand.
func TestBlankRuns(t *testing.T) {
	for text, want := range map[string]int{"": 0, "1,2": 0, " 1,2": 0, "1,2 ": 1, "1,2 3,4": 1, "\n1,2\n\t3,4 5,6\r\n": 3} {
		if got := blankRuns([]byte(text)); got != want {
			t.Errorf("%q: %d, want %d", text, got, want)
		}
	}
}

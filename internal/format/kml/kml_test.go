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

// TestTightened: coordinates as people write them by hand, and as programs do.
func TestTightened(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "1,2 3,4": "1,2 3,4", "-118.2, 34.1": "-118.2,34.1", "1 ,2": "1,2", "1 , 2\n3,\n4": "1,2\n3,4", "1,  2 , 3 4,5": "1,2,3 4,5",
	} {
		if got := string(tightened([]byte(text))); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

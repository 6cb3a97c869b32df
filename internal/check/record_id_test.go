package check

import "testing"

// By hand.
func TestLabel(t *testing.T) {
	for _, c := range []struct {
		id, file string
		row      int
		want     string
	}{
		{"S-7", "survey.csv", 12, "S-7"},
		{"", "survey.csv", 12, "row 12"},
		{"survey#12", "in/survey.csv", 12, "row 12"},
		{"survey#12", "in/survey.csv", 13, "survey#12"},
		{"survey.2#12", "survey.2.csv", 12, "row 12"},
	} {
		if got := Label(c.id, c.file, c.row); got != c.want {
			t.Errorf("%q of %s %d: %q, want %q", c.id, c.file, c.row, got, c.want)
		}
	}
}

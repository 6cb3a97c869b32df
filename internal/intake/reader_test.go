package intake

import (
	"bytes"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
)

// TestGrown: the capacity fits the rows expected in the rest of the text, by the mean length so
// far, plus a fiftieth; at most three times the present number; by hand.
func TestGrown(t *testing.T) {
	for _, c := range []struct {
		name            string
		rows, limit     int
		size, behind    int64
		atLeast, atMost int // room after; append rounds up by a quarter at most
	}{
		{"half of the file", 2000, 1e6, 2000, 1000, 4080, 4500},
		{"a hundredth of the file", 2000, 1e6, 100_000, 1000, 8000, 9000},
		{"a limit of records", 2000, 3000, 100_000, 1000, 3000, 3750},
		{"all of the file", 2000, 1e6, 900, 1000, 2000, 2000},
		{"size unknown", 2000, 1e6, 0, 1000, 2000, 2000},
		{"too few to tell", 999, 1e6, 100_000, 1000, 999, 999},
	} {
		r := featureReader{size: c.size}
		r.Limits.Records = c.limit
		r.Text = format.NewWindow(bytes.NewReader(make([]byte, c.behind)))
		r.Text.More()
		r.Text.Pos = r.Text.End
		rows := slices.Clip(make([]orb.Point, c.rows))
		rows[c.rows-1] = orb.Point{1, 2}
		got := grown(&r, rows)
		if len(got) != c.rows || got[c.rows-1] != rows[c.rows-1] || cap(got) < c.atLeast || cap(got) > c.atMost {
			t.Errorf("%s: %d rows with room for %d", c.name, len(got), cap(got))
		}
	}
}

// TestWholeText: by hand.
func TestWholeText(t *testing.T) {
	for text, want := range map[string]string{"17.0": "17", "17.000": "17", "17": "17", "17.": "17", "-3.0": "-3", "17.5": "17.5", "a.0": "a.0", ".0": ".0", "1.0.0": "1.0.0", "": ""} {
		if got := string(wholeText([]byte(text))); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

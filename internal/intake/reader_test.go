package intake

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// TestGrown: room for the rows that the rest of the text holds at the length of
// those so far, and a fiftieth more; at most three times as many; by hand.
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
		r.limits.Records = c.limit
		r.text = &window{base: c.behind}
		rows := slices.Clip(make([]orb.Point, c.rows))
		rows[c.rows-1] = orb.Point{1, 2}
		got := grown(&r, rows)
		if len(got) != c.rows || got[c.rows-1] != rows[c.rows-1] || cap(got) < c.atLeast || cap(got) > c.atMost {
			t.Errorf("%s: %d rows with room for %d", c.name, len(got), cap(got))
		}
	}
}

// TestShapeRoom: positions stay what they are while the room for them grows.
func TestShapeRoom(t *testing.T) {
	var s shape
	for i := range 5000 {
		if i%700 == 0 {
			s.room(i % 900)
		}
		s.add(orb.Point{float64(i), 1})
	}
	for i, p := range s.points {
		if p != (orb.Point{float64(i), 1}) {
			t.Fatalf("position %d is %v", i, p)
		}
	}
	if len(s.points) != 5000 {
		t.Errorf("%d positions", len(s.points))
	}
}

// TestBlankRuns counts by hand.
func TestBlankRuns(t *testing.T) {
	for text, want := range map[string]int{"": 0, "1,2": 0, " 1,2": 0, "1,2 ": 1, "1,2 3,4": 1, "\n1,2\n\t3,4 5,6\r\n": 3} {
		if got := blankRuns([]byte(text)); got != want {
			t.Errorf("%q: %d, want %d", text, got, want)
		}
	}
}

package stream

import (
	"testing"

	"github.com/paulmach/orb"
)

// TestMeetings: two sides of a path that cross, touch, or are in one line without touching, in both
// directions and on every side; by hand.
func TestMeetings(t *testing.T) {
	for _, c := range []struct {
		name       string
		a, b, c, d orb.Point
		at         orb.Point
		meet       bool
	}{
		{"cross", orb.Point{0, 0}, orb.Point{2, 2}, orb.Point{0, 2}, orb.Point{2, 0}, orb.Point{1, 1}, true},
		{"cross off the middle", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{1, 1}, orb.Point{1, -3}, orb.Point{1, 0}, true},
		{"touch with the first end", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{3, 0}, orb.Point{5, 5}, orb.Point{3, 0}, true},
		{"touch with the last end", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{5, 5}, orb.Point{3, 0}, orb.Point{3, 0}, true},
		{"are touched by the first end", orb.Point{3, 0}, orb.Point{5, 5}, orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{3, 0}, true},
		{"are touched by the last end", orb.Point{5, 5}, orb.Point{3, 0}, orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{3, 0}, true},
		{"lie apart", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{0, 1}, orb.Point{4, 2}, orb.Point{}, false},
		{"would cross if longer", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{5, 1}, orb.Point{5, -1}, orb.Point{}, false},
		{"the second would cross if longer", orb.Point{5, 1}, orb.Point{5, -1}, orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{}, false},
		{"one on the other's line", orb.Point{1, 1}, orb.Point{1, 4}, orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{}, false},
		{"in one line east", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{2, 0}, orb.Point{3, 0}, orb.Point{}, false},
		{"in one line west", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{-2, 0}, orb.Point{-3, 0}, orb.Point{}, false},
		{"in one line north", orb.Point{0, 0}, orb.Point{0, 1}, orb.Point{0, 2}, orb.Point{0, 3}, orb.Point{}, false},
		{"in one line south", orb.Point{0, 0}, orb.Point{0, 1}, orb.Point{0, -2}, orb.Point{0, -3}, orb.Point{}, false},
	} {
		for _, size := range []float64{1, 1.0 / 1024, 1024} { // of the sides: nothing depends on it
			path := orb.LineString{c.a, c.b, {9, 9}, c.c, c.d}
			for i := range path {
				path[i] = orb.Point{path[i][0] * size, path[i][1] * size}
			}
			if at, meet := meeting(path, 0, 3); at != (orb.Point{c.at[0] * size, c.at[1] * size}) || meet != c.meet {
				t.Errorf("%s, %v times as large: %v %v, want %v %v", c.name, size, at, meet, c.at, c.meet)
			}
		}
	}
}

// TestFoldings: a path that turns back on itself at a joint folds; one that continues or turns
// aside does not.
func TestFoldings(t *testing.T) {
	a, b := orb.Point{0, 0}, orb.Point{2, 0}
	for next, want := range map[orb.Point]bool{{1, 0}: true, {-3, 0}: true, {3, 0}: false, {2, 1}: false, {1, 0.001}: false} {
		if at, folds := meeting(orb.LineString{a, b, next}, 0, 1); folds != want || at != b {
			t.Errorf("on to %v: %v at %v, want %v at %v", next, folds, at, want, b)
		}
	}
	ring := orb.LineString{{0, 0}, {2, 0}, {1, 1}, {1, 0}, {0, 0}} // its last side overlaps its first
	if at, folds := meeting(ring, 0, 3); !folds || at != ring[0] {
		t.Errorf("a ring that folds where it closes: %v at %v", folds, at)
	}
}

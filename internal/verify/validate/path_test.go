package validate

import (
	"math"
	"slices"
	"testing"
)

// TestPlaces: positions that none can be, and one outside of what is expected, in words.
func TestPlaces(t *testing.T) {
	for at, want := range map[position][]string{
		{180, 90}: nil, {-180, -90}: nil,
		{181, 5}: {"here: longitude 181 is beyond 180"}, {5, -91}: {"here: latitude -91 is beyond 90"},
		{math.Inf(1), 5}: {"here: position [+Inf 5] is not a number"}, {5, math.Inf(-1)}: {"here: position [5 -Inf] is not a number"},
	} {
		r := &Report{}
		if r.place("here", at, Bounds{}); !slices.Equal(r.Problems, want) {
			t.Errorf("%v: %q, want %q", at, r.Problems, want)
		}
	}
	for _, at := range []position{{math.NaN(), 5}, {5, math.NaN()}} { // no key of a map
		r := &Report{}
		if r.place("here", at, Bounds{}); len(r.Problems) != 1 {
			t.Errorf("%v: %q", at, r.Problems)
		}
	}
	r := &Report{}
	r.place("here", position{3, 4}, Bounds{West: 0, South: 0, East: 2, North: 5})
	if len(r.Problems) != 1 {
		t.Errorf("outside: %q", r.Problems)
	}
}

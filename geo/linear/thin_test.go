package linear

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// By hand: vertices of a line 3 and 6 off the chord between its ends. With a tolerance of 5 the
// second is kept; it splits the line, and the first is then 1 off its chord and dropped. With a
// tolerance below 1 both are kept. The chord of a ring is a point.
func TestKeptByHand(t *testing.T) {
	line := []orb.Point{{0, 0}, {100, 3}, {300, 6}, {400, 0}}
	ring := []orb.Point{{0, 0}, {4, 0}, {4, 9}, {0, 0}}
	for _, c := range []struct {
		places []orb.Point
		by     float64
		want   []bool
	}{
		{line, 5, []bool{true, false, true, true}}, {line, 0.9, []bool{true, true, true, true}}, {line, 7, []bool{true, false, false, true}},
		{ring, 3.5, []bool{true, true, true, true}}, {ring, 20, []bool{true, false, false, true}}, {line[:1], 5, []bool{true}}, {nil, 5, []bool{}},
	} {
		got := Kept(c.places, c.by)
		if !slices.Equal(got, c.want) {
			t.Errorf("%v by %v: %v, want %v", c.places, c.by, got, c.want)
		}
	}
}

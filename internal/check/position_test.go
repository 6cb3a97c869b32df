package check

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// TestPositionOf: what can be a position, by hand from the range of degrees.
func TestPositionOf(t *testing.T) {
	for _, c := range []struct {
		p    orb.Point
		want Misplaced
	}{
		{orb.Point{10, -20}, WellPlaced}, {orb.Point{0, 1}, WellPlaced}, {orb.Point{-360, 90}, WellPlaced},
		{orb.Point{0, 0}, NullIsland}, {orb.Point{361, 0}, OutOfRange}, {orb.Point{10, -90.1}, OutOfRange},
		{orb.Point{500000, 4600000}, OutOfRange}, {orb.Point{math.NaN(), 0}, NotFinite}, {orb.Point{1, math.Inf(-1)}, NotFinite},
	} {
		if got := PositionOf(c.p); got != c.want {
			t.Errorf("%v: %v, want %v", c.p, got, c.want)
		}
	}
	at, why := PathsOf([]orb.LineString{{{1, 2}}, {{3, 4}, {5, 99}, {0, 0}}})
	if at != (orb.Point{5, 99}) || why != OutOfRange {
		t.Errorf("%v %v", at, why)
	}
	if _, why := PathsOf([]orb.Ring{{{1, 2}}, nil}); why != WellPlaced {
		t.Error(why)
	}
}

package lineage

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// By hand: a square of 10 m and one of 4 m half inside it share 8 m2, half of the smaller, in
// either order; squares apart share nothing.
func TestSharedIsOfTheSmaller(t *testing.T) {
	square := func(x, y, side float64) plot {
		ring := orb.Ring{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}
		return plot{orb.MultiPolygon{{ring}}, geo.SquareMeters(side * side)}
	}
	large, small, far := square(0, 0, 10), square(8, 2, 4), square(100, 0, 4)
	for name, pair := range map[string][2]plot{"large first": {large, small}, "small first": {small, large}} {
		area, share := pair[0].shared(pair[1])
		if math.Abs(float64(area)-8) > 1e-9 || math.Abs(share-0.5) > 1e-9 {
			t.Errorf("%s: %g m2, share %g, want 8 and 0.5", name, area, share)
		}
	}
	if area, share := large.shared(far); area != 0 || share != 0 {
		t.Errorf("apart: %g m2, share %g", area, share)
	}
}

package shape_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/geo/shape"
)

// TestAreasAreKept: polygons come back from their bytes to the last bit.
func TestAreasAreKept(t *testing.T) {
	for _, mp := range []orb.MultiPolygon{{}, {{{{1, 2}, {3.5, -4}, {1, 2}}}}, {{{{0.1, 0.2}, {1, 1}}, {{5, 6}}}, {{{180, -90}}}}} {
		if d := cmp.Diff(mp, shape.PolygonsOf(shape.AppendPolygons(nil, mp))); d != "" {
			t.Error(d)
		}
	}
}

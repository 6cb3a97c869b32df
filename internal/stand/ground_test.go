package stand

import (
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// TestNearTheGround: ground 0.1 degrees long at the equator and 20 m wide, given with its western
// end as middle; places beside its far end, inside it and off its corner; by hand.
func TestNearTheGround(t *testing.T) {
	west := orb.Point{20, 0}
	far := earth.NewFrame(orb.Point{20.1, 0})
	at := func(x, y float64) orb.Point { return far.Inverse(orb.Point{x, y}) } // metres from the far end
	half := 10 / 110574.0                                                      // of its width, in degrees of latitude
	g := GroundOf(Pack(orb.MultiPolygon{{{{20, -half}, {20.1, -half}, {20.1, half}, {20, half}, {20, -half}}}}), west)
	for _, test := range []struct {
		x, y float64
		near bool // within 20 m
	}{
		{-5000, 0, true}, {-1, 5, true}, {19, 0, true}, {21, 0, false}, {0, 29, true}, {0, 31, false}, {11, 26, true}, {16, 26, false}, {500, 0, false}, {-3000, 31, false}, {-3000, -29, true},
	} {
		if got := g.Near(at(test.x, test.y), 20); got != test.near {
			t.Errorf("%g m east and %g m north of the far end: near %v", test.x, test.y, got)
		}
	}
	if GroundOf(Outline{}, west).Near(orb.Point{21, 0}, 20) {
		t.Error("a place is near to nothing")
	}
}

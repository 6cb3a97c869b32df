package aquatic

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// TestDistanceBetweenAreas: by hand: apart by 3, 4 from corner to corner, by 2 from side to side,
// touching, crossing, and one inside the other in either order.
func TestDistanceBetweenAreas(t *testing.T) {
	at := func(west, south, east, north float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}}
	}
	square := at(0, 0, 10, 10)
	for name, test := range map[string]struct {
		other orb.MultiPolygon
		want  float64
	}{
		"corner to corner": {at(13, 14, 20, 20), 5}, "side to side": {at(-5, 2, -2, 8), 2}, "touching": {at(10, 0, 20, 10), 0}, "crossing": {at(5, -5, 6, 15), 0},
		"inside": {at(4, 4, 6, 6), 0}, "around": {at(-5, -5, 15, 15), 0}, "two, the nearer": {append(at(30, 0, 40, 10), at(11, 0, 12, 1)...), 1},
	} {
		for _, pair := range [][2]orb.MultiPolygon{{square, test.other}, {test.other, square}} {
			if got := float64(distanceBetween(pair[0], pair[1])); math.Abs(got-test.want) > 1e-9 {
				t.Errorf("%s: %g, want %g", name, got, test.want)
			}
		}
	}
	if got := float64(distanceBetween(square, nil)); !math.IsInf(got, 1) {
		t.Errorf("to nothing it is %g", got)
	}
}

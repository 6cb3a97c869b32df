package shape

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// TestConvexHull: corners and area of the hull are those of Andrew's algorithm on all corners, and a
// hole or the order of parts changes nothing.
func TestConvexHull(t *testing.T) {
	for seed := range uint64(20) {
		random := rand.New(rand.NewPCG(seed, 11))
		var areas orb.MultiPolygon
		for range 1 + random.IntN(6) {
			disc := Disc{orb.Point{90 * random.Float64(), 50 * random.Float64()}, geo.Meters(1 + 4*random.Float64())}
			areas = append(areas, disc.Polygon())
		}
		areas = Union([]orb.MultiPolygon{areas}, 1)
		var places []orb.Point
		for _, polygon := range areas {
			places = append(places, polygon[0]...)
		}
		ring := orb.Ring(hullOf(places))
		want := orb.MultiPolygon{{append(ring, ring[0])}}
		got := ConvexHull(areas)
		if len(got) != 1 || len(got[0]) != 1 || len(got[0][0]) != len(want[0][0]) || math.Abs(float64(Area(got)-Area(want))) > 1e-9*float64(Area(want)) {
			t.Errorf("seed %d: %v, want %v", seed, got, want)
		}
		slices.Reverse(areas)
		if back := ConvexHull(areas); !slices.EqualFunc(got[0], back[0], func(a, b orb.Ring) bool { return slices.Equal(a, b) }) {
			t.Errorf("seed %d: another hull for another order: %v, %v", seed, got, back)
		}
	}
	square := func(side float64) orb.Ring {
		return orb.Ring{{-side, -side}, {side, -side}, {side, side}, {-side, side}, {-side, -side}}
	}
	hole := square(1)
	slices.Reverse(hole)
	if got := ConvexHull(orb.MultiPolygon{{square(3), hole}}); Area(got) != 36 {
		t.Errorf("a square with a hole: %v", got)
	}
	if got := ConvexHull(nil); len(got) != 0 {
		t.Errorf("of nothing: %v", got)
	}
}

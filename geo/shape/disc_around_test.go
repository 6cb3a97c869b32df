package shape

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// The area of a regular polygon about a circle is n r^2 tan(pi/n): Euclid, by hand.
func TestAround(t *testing.T) {
	for _, n := range []int{3, 4, 16} {
		p := orb.MultiPolygon{Disc{orb.Point{5, 7}, 3}.Around(n)}
		within(t, "area", Area(p), float64(n)*9*math.Tan(math.Pi/float64(n)), 1e-12)
		if p[0][0][0] != p[0][0][n] {
			t.Error("the ring is open")
		}
	}
	if (Disc{}).Around(8) != nil {
		t.Error("an empty disc has a polygon")
	}
}

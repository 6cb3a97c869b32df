package shape

import (
	"testing"

	"github.com/paulmach/orb"
)

// TestMend: a valid area is returned as it is, squares side by side are joined without a fault, a
// figure of eight is a fault. By hand.
func TestMend(t *testing.T) {
	square := func(x float64) orb.Polygon { return orb.Polygon{{{x + 1, 0}, {x + 1, 1}, {x, 1}, {x, 0}, {x + 1, 0}}} }
	one := orb.MultiPolygon{square(0)}
	if got, faulty := Mend(one); faulty || &got[0][0][0] != &one[0][0][0] {
		t.Errorf("a square: %v %v", got, faulty)
	}
	if got, faulty := Mend(orb.MultiPolygon{square(0), square(1)}); faulty || len(got) != 1 || got.Bound() != (orb.Bound{Max: orb.Point{2, 1}}) {
		t.Errorf("two squares: %v %v", got, faulty)
	}
	if got, faulty := Mend(orb.MultiPolygon{{{{0, 0}, {2, 2}, {2, 0}, {0, 2}, {0, 0}}}}); !faulty || len(got) != 2 {
		t.Errorf("a figure of eight: %v %v", got, faulty)
	}
}

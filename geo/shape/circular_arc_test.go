package shape

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// TestArc: length and ends by closed form, r times the angle; a full circle has
// the length 2 pi r. A chord of a degree is 1/78 800 shorter than its arc.
func TestArc(t *testing.T) {
	h := math.Sqrt2 / 2
	for _, test := range []struct {
		name    string
		a, b, c orb.Point
		want    float64
	}{
		{"quarter", orb.Point{1, 0}, orb.Point{h, h}, orb.Point{0, 1}, math.Pi / 2},
		{"quarter, clockwise", orb.Point{0, 1}, orb.Point{h, h}, orb.Point{1, 0}, math.Pi / 2},
		{"three quarters", orb.Point{1, 0}, orb.Point{-h, h}, orb.Point{0, -1}, 3 * math.Pi / 2},
		{"over the cut of the angles", orb.Point{-h, h}, orb.Point{-1, 0}, orb.Point{-h, -h}, math.Pi / 2},
		{"circle", orb.Point{5, 7}, orb.Point{1, 7}, orb.Point{5, 7}, 4 * math.Pi},
		{"line", orb.Point{0, 0}, orb.Point{1, 1}, orb.Point{2, 2}, 2 * math.Sqrt2},
		{"one place", orb.Point{3, 3}, orb.Point{3, 3}, orb.Point{3, 3}, 0},
	} {
		path := Arc([]orb.Point{test.a}, test.a, test.b, test.c)
		length := 0.0
		for i := range path[1:] {
			length += math.Hypot(path[i+1][0]-path[i][0], path[i+1][1]-path[i][1])
		}
		if math.Abs(length-test.want) > test.want/70000 {
			t.Errorf("%s: length %v, not %v", test.name, length, test.want)
		}
		if path[len(path)-1] != test.c {
			t.Errorf("%s: ends at %v", test.name, path[len(path)-1])
		}
	}
}

// TestArcKeepsItsRadius: every vertex is as far from the center as the three given places,
// anywhere, and the arc passes the middle one.
func TestArcKeepsItsRadius(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		center := orb.Point{rapid.Float64Range(-1e7, 1e7).Draw(t, "x"), rapid.Float64Range(-1e7, 1e7).Draw(t, "y")}
		radius := rapid.Float64Range(1, 1e5).Draw(t, "radius")
		begin := rapid.Float64Range(0, 2*math.Pi).Draw(t, "begin")
		turn := rapid.Float64Range(0.1, 6).Draw(t, "turn")
		if rapid.Bool().Draw(t, "clockwise") {
			turn = -turn
		}
		at := func(angle float64) orb.Point {
			return orb.Point{center[0] + radius*math.Cos(angle), center[1] + radius*math.Sin(angle)}
		}
		middle := at(begin + turn/2)
		path := Arc([]orb.Point{at(begin)}, at(begin), middle, at(begin+turn))
		nearest := math.Inf(1)
		for _, p := range path {
			if off := math.Abs(math.Hypot(p[0]-center[0], p[1]-center[1]) - radius); off > 1e-5*radius {
				t.Fatalf("%v lies %v off the circle of radius %v", p, off, radius)
			}
			nearest = min(nearest, math.Hypot(p[0]-middle[0], p[1]-middle[1]))
		}
		if nearest > radius*arcStep {
			t.Fatalf("the middle is passed at %v", nearest)
		}
		if len(path) > 361 {
			t.Fatalf("%d vertices", len(path))
		}
	})
}

package shape

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// rectangle returns the box from x, y.
func rectangle(x, y, width, height float64) orb.MultiPolygon {
	return orb.MultiPolygon{{orb.Ring{{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}, {x, y}}}}
}

// Derived by hand.
func TestIntersectionAreaByHand(t *testing.T) {
	holed := orb.MultiPolygon{{rectangle(0, 0, 10, 10)[0][0], {{2, 2}, {2, 8}, {8, 8}, {8, 2}, {2, 2}}}}
	for _, c := range []struct {
		name string
		a, b orb.MultiPolygon
		want float64
	}{
		{"apart", rectangle(0, 0, 1, 1), rectangle(5, 5, 1, 1), 0},
		{"side by side", rectangle(0, 0, 1, 1), rectangle(1, 0, 1, 1), 0},
		{"corner to corner", rectangle(0, 0, 1, 1), rectangle(1, 1, 1, 1), 0},
		{"the same", rectangle(3, 4, 5, 6), rectangle(3, 4, 5, 6), 30},
		{"half", rectangle(0, 0, 10, 10), rectangle(5, -5, 10, 20), 50},
		{"inside", rectangle(0, 0, 10, 10), rectangle(2, 3, 4, 5), 20},
		{"in a hole", holed, rectangle(3, 3, 2, 2), 0},
		{"across a hole", holed, rectangle(0, 4, 10, 2), 8},
		{"diamond in a square", orb.MultiPolygon{{orb.Ring{{0, -1}, {1, 0}, {0, 1}, {-1, 0}, {0, -1}}}}, rectangle(0, 0, 5, 5), 0.5},
		{"beneath something", rectangle(0, 0, 10, 10), append(rectangle(2, -50, 3, 10), rectangle(2, 5, 3, 50)...), 15},
		{"far from the origin", rectangle(5e6, 7e6, 10, 10), rectangle(5e6+5, 7e6+5, 10, 10), 25},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, got := range []float64{float64(IntersectionArea(c.a, c.b)), float64(IntersectionArea(c.b, c.a))} {
				if math.Abs(got-c.want) > 1e-9 {
					t.Errorf("%v, want %v", got, c.want)
				}
			}
		})
	}
}

// The sum over pairs of edges and the area of the library's intersection must give the same number.
func TestIntersectionAreaIsThatOfIntersection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := drawLines(t)
		a, b := UnionDiscs(drawDiscs(t)), BufferLines(lines, drawRadii(t, len(lines)), 8, 1)
		got, want := IntersectionArea(a, b), Area(Intersection(a, b))
		if math.Abs(float64(got-want)) > 1e-6 {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

// A footprint beside a zone of many streams, as a whole, compared with sampling on a grid: 200
// samples a side of the box.
func TestIntersectionAreaBySampling(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	footprint := UnionDiscs(walk(rng, 25, 11.35, 11.35))
	zone := Buffer(orb.MultiLineString{{{-100, -20}, {-20, 0}, {60, -10}, {140, 30}}}, 32, 8)
	box := footprint.Bound()
	const n = 200
	hits, cell := 0, (box.Right()-box.Left())*(box.Top()-box.Bottom())/n/n
	for i := range n {
		for j := range n {
			p := orb.Point{box.Left() + (float64(i)+0.5)/n*(box.Right()-box.Left()), box.Bottom() + (float64(j)+0.5)/n*(box.Top()-box.Bottom())}
			if Contains(footprint, p) && Contains(zone, p) {
				hits++
			}
		}
	}
	within(t, "area", IntersectionArea(footprint, zone), float64(hits)*cell, 0.01)
}

package shape

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// by returns the move by an offset.
func by(x, y float64) func(orb.Point) orb.Point {
	return func(p orb.Point) orb.Point { return orb.Point{p[0] + x, p[1] + y} }
}

// TestDifferenceOfWhatLiesApart: an area less one apart from it, or less nothing, is the area itself, vertex by
// vertex; nothing less an area is nothing.
func TestDifferenceOfWhatLiesApart(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 1))
	for range 50 {
		a := starAt(rng, orb.Point{-3, 2}, 4)
		for _, polygon := range a { // begun elsewhere than at its least corner, where the library begins
			for _, ring := range polygon {
				copy(ring, slices.Concat(ring[2:], ring[1:3]))
			}
		}
		for _, b := range []orb.MultiPolygon{nil, moved(starAt(rng, orb.Point{}, 4), by(20, 0)), moved(starAt(rng, orb.Point{}, 4), by(0, -20))} {
			if got := Difference(a, b); !slices.EqualFunc(got, a, func(p, q orb.Polygon) bool { return p.Equal(q) }) {
				t.Fatalf("%v less %v is %v", a, b, got)
			}
			if got := Difference(nil, b); len(got) != 0 {
				t.Fatalf("nothing less %v is %v", b, got)
			}
		}
	}
}

// TestSumsOfOverlays: of any two areas, some with sides that coincide but for rounding, near the origin and a
// thousand kilometres off: what both have is all of them less their union, and each is what both have and what it alone has.
func TestSumsOfOverlays(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 3))
	for k := range 90 {
		a := starAt(rng, orb.Point{rng.Float64(), rng.Float64()}, 5)
		b := starAt(rng, orb.Point{4 * rng.Float64(), rng.Float64()}, 5)
		if k%3 > 0 { // nearly along one of its sides, or twice nearly the same
			b = moved(a, by(0, 0))
			for i := range b[0][0] {
				if k%3 == 1 && rng.IntN(2) == 0 {
					b[0][0][i][0] += 3 * rng.Float64()
				}
				b[0][0][i][1] *= 1 + 1e-15*float64(rng.IntN(5)-2)
			}
			b[0][0][len(b[0][0])-1] = b[0][0][0]
			if b, _ = MakeValid(b); len(b) == 0 {
				continue
			}
		}
		x, y := 0.0, 0.0
		if k%2 == 1 {
			x, y = 1e6, -1e6
		}
		a, b = moved(a, by(x, y)), moved(b, by(x, y))
		if Valid(a) != nil || Valid(b) != nil {
			continue // rounding so far off
		}
		both := float64(IntersectionArea(a, b))
		all := float64(Area(a) + Area(b))
		within := 1e-7 * all
		for name, got := range map[string]float64{
			"union":   float64(Area(Union([]orb.MultiPolygon{a, b}, 1))) + both,
			"join":    float64(Area(Join(a, b))) + both,
			"reverse": float64(Area(Join(b, a))) + both,
			"parts":   float64(Area(Difference(a, b))+Area(Difference(b, a))) + 2*both,
		} {
			if math.Abs(got-all) > within {
				t.Errorf("%d, %s: %v, want %v", k, name, got, all)
			}
		}
	}
}

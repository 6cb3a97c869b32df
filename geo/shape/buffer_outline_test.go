package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// libraryGrown is BufferPolygon by the polygon library, whatever the size.
func libraryGrown(mp orb.MultiPolygon, r float64, quadrantSegments int) orb.MultiPolygon {
	return fromGeometry(must(bufferGeometry(prepared(mp, false), r, quadrantSegments)))
}

// roundBy returns a closed ring of n vertices at a distance from center that depends on the angle.
func roundBy(center orb.Point, n int, distance func(angle float64) float64) orb.Ring {
	ring := make(orb.Ring, 0, n+1)
	for i := range n {
		angle := 2 * math.Pi * float64(i) / float64(n)
		d := distance(angle)
		ring = append(ring, orb.Point{center[0] + d*math.Cos(angle), center[1] + d*math.Sin(angle)})
	}
	return append(ring, ring[0])
}

// manySided are areas in shapes where outlines of what is grown lie inside the area, meet, or vanish.
func manySided() map[string]orb.MultiPolygon {
	round := func(d float64) func(float64) float64 { return func(float64) float64 { return d } }
	wavy := func(a float64) float64 { return 60 + 20*math.Sin(7*a) + 6*math.Sin(31*a) }
	rough := rand.New(rand.NewPCG(1, 2))
	noisy := func(float64) float64 { return 60 + rough.Float64() }
	spikes := 0
	star := func(float64) float64 {
		spikes++
		return []float64{5, 90}[spikes%2]
	}
	var cells orb.MultiPolygon // a board whose squares touch at corners
	for i := range 16 {
		for k := range 16 {
			if (i+k)%2 == 0 {
				x, y := 4*float64(i), 4*float64(k)
				cells = append(cells, orb.Polygon{{{x, y}, {x + 4, y}, {x + 4, y + 4}, {x, y + 4}, {x, y}}})
			}
		}
	}
	sieve := orb.Polygon{{{0, 0}, {200, 0}, {200, 200}, {0, 200}, {0, 0}}}
	for i := range 12 {
		for k := range 12 {
			sieve = append(sieve, roundBy(orb.Point{10 + 16*float64(i), 10 + 16*float64(k)}, 8, round(1+float64(i)/2)))
		}
	}
	rings := orb.MultiPolygon{ // an island in the hole of another, and one far off
		{roundBy(orb.Point{0, 0}, 400, round(100)), roundBy(orb.Point{0, 0}, 400, round(60))},
		{roundBy(orb.Point{0, 0}, 300, round(30)), roundBy(orb.Point{0, 0}, 100, round(12))},
		{roundBy(orb.Point{500, 40}, 100, wavy)},
	}
	return map[string]orb.MultiPolygon{
		"wavy":         {{roundBy(orb.Point{3, 4}, 1500, wavy)}},
		"noisy":        {{roundBy(orb.Point{3, 4}, 900, noisy)}},
		"star":         {{roundBy(orb.Point{3, 4}, 120, star)}},
		"board":        cells,
		"sieve":        {sieve},
		"rings":        rings,
		"wavy and far": {{roundBy(orb.Point{3e5, 4e5}, 1500, wavy)}, {roundBy(orb.Point{3e5 + 130, 4e5}, 700, wavy)}},
	}
}

// The truth is the polygon library's buffer of the same area.
func TestBufferAlongOutlineAsTheLibrary(t *testing.T) {
	for name, mp := range manySided() {
		for _, r := range []float64{15, 3, 0.2, -0.2, -3, -15} {
			if r < 0 {
				mp = Union([]orb.MultiPolygon{mp}, 1)
			}
			t.Run(fmt.Sprintf("%s by %g", name, r), func(t *testing.T) {
				got, ok := bufferOutline(mp, r, 16)
				if !ok {
					t.Fatal("rounding spoilt it")
				}
				if err := Valid(got); err != nil {
					t.Fatal(err)
				}
				want := libraryGrown(mp, r, 16)
				common := float64(IntersectionArea(got, want))
				// round corners of 16 sides a quarter lose up to 0.16 % of the circle, by either more or less
				if apart := float64(Area(got)+Area(want)) - 2*common; apart > 4e-4*float64(Area(want))+3e-3*r*r {
					t.Errorf("%.6g m2, the library %.6g, %.3g in one alone of %d and %d polygons", Area(got), Area(want), apart, len(got), len(want))
				}
			})
		}
	}
}

// Two areas that overlap grow as their union does.
func TestOverlappingAreasGrowAlongOutlines(t *testing.T) {
	wavy := func(a float64) float64 { return 60 + 20*math.Sin(7*a) }
	a, b := orb.Polygon{roundBy(orb.Point{0, 0}, 400, wavy)}, orb.Polygon{roundBy(orb.Point{50, 30}, 400, wavy)}
	got := BufferPolygon(orb.MultiPolygon{a, b}, 9, 16)
	want := libraryGrown(Union([]orb.MultiPolygon{{a}, {b}}, 1), 9, 16)
	if apart := float64(Area(got)+Area(want)) - 2*float64(IntersectionArea(got, want)); apart > 1e-4*float64(Area(want)) {
		t.Errorf("%.6g m2, the library %.6g, %.3g in one alone", Area(got), Area(want), apart)
	}
}

// A circle of many sides grows to a circle: the area is known.
func TestAFinelyDrawnCircleGrows(t *testing.T) {
	for _, n := range []int{1000, 10_000} {
		circle := orb.MultiPolygon{{roundBy(orb.Point{7, 8}, n, func(float64) float64 { return 500 })}}
		for _, r := range []float64{30, -30, -499, -501} {
			if n > 1000 && r != 30 { // the others are slow: all sides meet in one place
				continue
			}
			want := math.Pi * math.Pow(max(0, 500+r), 2)
			if got := float64(Area(BufferPolygon(circle, geo.Meters(r), 16))); math.Abs(got-want) > 1e-4*want+0.1 {
				t.Errorf("%d sides by %g m: %.6g m2, want %.6g", n, r, got, want)
			}
		}
	}
}

func BenchmarkBufferAlongOutline(b *testing.B) {
	for _, n := range []int{5_000, 20_000} {
		mp := orb.MultiPolygon{{roundBy(orb.Point{0, 0}, n, func(a float64) float64 { return 450 + 50*math.Sin(float64(n)/25*a) })}}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for range b.N {
				BufferPolygon(mp, 30, 4)
			}
		})
	}
}

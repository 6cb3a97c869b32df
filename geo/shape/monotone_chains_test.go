package shape

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// comb is a row of teeth, each a unit wide and high with vertical sides, on a back two high: longer
// than any chain. Area 3 a tooth, less 1 a gap.
func comb(teeth int) orb.MultiPolygon {
	r := orb.Ring{{0, 0}, {float64(2 * teeth), 0}}
	for k := teeth - 1; k >= 0; k-- {
		x := float64(2 * k)
		r = append(r, orb.Point{x + 2, 2}, orb.Point{x + 1, 2}, orb.Point{x + 1, 3}, orb.Point{x, 3})
	}
	return orb.MultiPolygon{{append(r, r[0])}}
}

// roof is an outline of n edges along its top in one direction, under the parabola x(n-x), and one
// along the ground.
func roof(n int) orb.MultiPolygon {
	var r orb.Ring
	for k := n; k >= 0; k-- {
		r = append(r, orb.Point{float64(k), float64(k * (n - k))})
	}
	return orb.MultiPolygon{{append(r, r[0])}}
}

// Derived by hand; long runs of edges are cut into chains at different places in the two areas.
func TestIntersectionAreaOfLongChains(t *testing.T) {
	for n := 2 * longestChain; n <= 2*longestChain+3; n++ {
		// the trapezoids under the parabola are (n^3-n)/6 in all
		whole := float64(n*n*n-n) / 6
		for _, c := range []struct {
			name string
			a, b orb.MultiPolygon
			want float64
		}{
			{"a roof with itself", roof(n), roof(n), whole},
			{"a roof in a box", roof(n), rectangle(-1, -1, float64(n+2), float64(n*n)), whole},
			{"half of a roof", roof(n), rectangle(-1, -1, float64(n)/2+1, float64(n*n)), whole / 2},
			{"roofs side by side", roof(n), rectangle(float64(n), 0, 5, 5), 0},
			{"roofs back to back", roof(n), rectangle(0, -5, float64(n), 5), 0},
			{"teeth", comb(n), rectangle(0, 2, float64(2*n), 9), float64(n)},
			{"between teeth", comb(n), rectangle(1, 2, 1, 9), 0},
			{"a comb with itself", comb(n), comb(n), float64(5 * n)},
			{"half of each tooth", comb(n), rectangle(-3, 2.5, float64(3*n), 1), float64(n) / 2},
		} {
			t.Run(fmt.Sprint(c.name, " ", n), func(t *testing.T) {
				for _, got := range []geo.SquareMeters{IntersectionArea(c.a, c.b), IntersectionArea(c.b, c.a)} {
					if math.Abs(float64(got)-c.want) > 1e-12*whole {
						t.Errorf("%v, want %v", got, c.want)
					}
				}
			})
		}
	}
}

// Comparing chains and comparing edges must give the same number.
func TestChainsAreTheirEdges(t *testing.T) {
	same := func(t interface{ Errorf(string, ...any) }, a, b orb.MultiPolygon) {
		reach := a.Bound()
		got := float64(IntersectionArea(a, b))
		want := max(0, sharedBy(topsWithin(a, reach), topsWithin(b, reach)))
		size := (reach.Max[0] - reach.Min[0]) * (reach.Max[1] - reach.Min[1])
		if math.Abs(got-want) > 1e-11*size {
			t.Errorf("%v by chains, %v by edges", got, want)
		}
	}
	t.Run("drawn", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) {
			lines := drawLines(t)
			same(t, UnionDiscs(drawDiscs(t)), BufferLines(lines, drawRadii(t, len(lines)), 8, 1))
			same(t, UnionDiscs(drawDiscs(t)), UnionDiscs(drawDiscs(t)))
		})
	})
	for name, mp := range awkwardAreas() {
		for other, with := range awkwardAreas() {
			t.Run(name+" and "+other, func(t *testing.T) {
				a, _ := MakeValid(mp)
				b, _ := MakeValid(with)
				if len(a) == 0 || len(b) == 0 {
					if IntersectionArea(a, b) != 0 {
						t.Error("shares ground with nothing")
					}
					return
				}
				same(t, a, b)
				all := Union([]orb.MultiPolygon{a, b}, 1)
				within(t, "union and intersection", Area(all)+IntersectionArea(a, b), float64(Area(a)+Area(b)), 1e-9)
			})
		}
	}
}

// Within agrees with the distance; at exactly the distance it is true, except for the last digits:
// places 1e-17 m from an outline are on it by one method and not by the other.
func TestWithinIsTheDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mp := UnionDiscs(drawDiscs(t))
		at := rapid.Float64Range(-200, 200)
		p := orb.Point{at.Draw(t, "x"), at.Draw(t, "y")}
		d := DistanceToLine(mp, orb.LineString{p})
		const last = 1e-12 // of coordinates up to some hundred metres
		if !Within(mp, p, d+last) && !math.IsInf(float64(d), 1) {
			t.Fatalf("not within its distance %v", d)
		}
		off := geo.Meters(rapid.Float64Range(0, 60).Draw(t, "off"))
		if got := Within(mp, p, off); got != (d <= off) && math.Abs(float64(d-off)) > last {
			t.Fatalf("within %v: %v, at distance %v", off, got, d)
		}
		if Within(mp, p, -1) {
			t.Fatal("within less than nothing")
		}
	})
}

package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// halvesAgree holds the halves of a polygon against its clipped and mended halves, and returns how many
// parts there are.
func halvesAgree(t interface{ Fatalf(string, ...any) }, polygon orb.Polygon, axis int, at float64) (parts int) {
	low, high := polygon.Bound(), polygon.Bound()
	low.Max[axis], high.Min[axis] = at, at
	whole := orb.MultiPolygon{polygon}
	for i, got := range Halves(polygon, axis, at) {
		want, _ := MakeValid(Clip(whole, [2]orb.Bound{low, high}[i]))
		near := 1e-9 * math.Abs(float64(Area(whole)))
		if math.Abs(float64(Area(got)-Area(want))) > near || math.Abs(float64(IntersectionArea(got, want)-Area(want))) > near {
			t.Fatalf("half %d of %v at %v across axis %d is %v, clipped and mended %v", i, polygon, at, axis, got, want)
		}
		if err := Valid(got); err != nil {
			t.Fatalf("half %d of %v at %v across axis %d: %v", i, polygon, at, axis, err)
		}
		parts += len(got)
	}
	return parts
}

// TestHalves: the halves of boards of squares, with holes and with corners that touch, cut along the
// squares' sides and through them, and of stars with holes, are those that are clipped and mended.
func TestHalves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mp := drawPlates(t, "plates", 30).area()
		for _, polygon := range mp {
			axis := rapid.IntRange(0, 1).Draw(t, "axis")
			at := float64(rapid.IntRange(-1, 25).Draw(t, "at")) / 2
			halvesAgree(t, polygon, axis, at)
		}
	})
	dice := rand.New(rand.NewPCG(8, 15))
	most := 0
	for range 60 {
		mp := starAt(dice, orb.Point{500 * dice.Float64(), 4e6 + 500*dice.Float64()}, 60)
		for range 3 {
			mp = Join(mp, starAt(dice, orb.Point{500 * dice.Float64(), 4e6 + 500*dice.Float64()}, 120))
		}
		for _, polygon := range mp {
			box := polygon.Bound()
			axis := dice.IntN(2)
			most = max(most, halvesAgree(t, polygon, axis, box.Min[axis]+(box.Max[axis]-box.Min[axis])*dice.Float64()))
			halvesAgree(t, polygon, axis, polygon[0][dice.IntN(len(polygon[0]))][axis])
		}
	}
	if most < 4 {
		t.Errorf("at most %d parts: too plain", most)
	}
}

// TestHalvesByHand: a ring of ground of 4 by 4 around a hole of 2 by 2 whose corner touches the line; the
// hole is a hole above the line and only touches it.
func TestHalvesByHand(t *testing.T) {
	polygon := orb.Polygon{{{0, 0}, {8, 0}, {8, 8}, {0, 8}, {0, 0}}, {{4, 4}, {3, 5}, {4, 6}, {5, 5}, {4, 4}}}
	got := Halves(polygon, 1, 4)
	if Area(got[0]) != 32 || Area(got[1]) != 30 || len(got[0]) != 1 || len(got[1]) != 1 || len(got[0][0]) != 1 || len(got[1][0]) != 2 {
		t.Errorf("%v", got)
	}
	if got := Halves(polygon, 0, 9); len(got[1]) != 0 || Area(got[0]) != 62 {
		t.Errorf("cut beside it: %v", got)
	}
}

// BenchmarkHalves: a strip with a hole every other metre, cut along its middle through all holes.
func BenchmarkHalves(b *testing.B) {
	for _, n := range []int{1000, 8000} {
		polygon := orb.Polygon{{{0, 0}, {float64(2*n) + 1, 0}, {float64(2*n) + 1, 4}, {0, 4}, {0, 0}}}
		for i := range n {
			x := float64(2*i) + 1
			polygon = append(polygon, orb.Ring{{x, 1.5}, {x + 0.5, 2.7}, {x + 1, 1.5}, {x, 1.5}})
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				Halves(polygon, 0, float64(n)+0.3)
			}
		})
	}
}

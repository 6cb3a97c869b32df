package earth

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Derived by hand: the ends of the axes of the ellipsoid.
func TestECEFOnTheAxes(t *testing.T) {
	for _, c := range []struct {
		name string
		p    orb.Point
		want [3]float64
	}{
		{"origin", orb.Point{0, 0}, [3]float64{6378137, 0, 0}},
		{"90 E", orb.Point{90, 0}, [3]float64{0, 6378137, 0}},
		{"antimeridian", orb.Point{-180, 0}, [3]float64{-6378137, 0, 0}},
		{"south pole", orb.Point{33, -90}, [3]float64{0, 0, -6356752.314245179}},
	} {
		got := ECEF(c.p)
		for i := range got {
			near(t, c.name, got[i], c.want[i], 1e-8)
		}
	}
}

// Every position is on the ellipsoid, and the normal there has the latitude's direction.
func TestECEFLiesOnTheEllipsoid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := position(-90, 90).Draw(t, "p")
		v := ECEF(p)
		a, b := WGS84.A, WGS84.B()
		near(t, "equation", (v[0]*v[0]+v[1]*v[1])/(a*a)+v[2]*v[2]/(b*b), 1, 1e-15)
		lat := math.Atan2(v[2]*a*a/(b*b), math.Hypot(v[0], v[1])) * degreesPerRadian
		near(t, "latitude", lat, p[1], 1e-13)
	})
}

func TestCenter(t *testing.T) {
	for _, c := range []struct {
		name   string
		points []orb.Point
		want   orb.Point
	}{
		{"none", nil, orb.Point{0, 0}},
		{"one", []orb.Point{{12, -34}}, orb.Point{12, -34}},
		{"box, not mean", []orb.Point{{0, 0}, {0, 0}, {0, 0}, {2, 4}}, orb.Point{1, 2}},
		{"across the antimeridian", []orb.Point{{179, 10}, {-178, 12}}, orb.Point{-179.5, 11}},
		{"continuous longitudes", []orb.Point{{179, 10}, {182, 12}}, orb.Point{-179.5, 11}},
		{"on the antimeridian, either name", []orb.Point{{180, 0}, {-180, 2}}, orb.Point{-180, 1}},
		{"round the prime meridian", []orb.Point{{-3, 50}, {1, 52}}, orb.Point{-1, 51}},
	} {
		if got := Center(c.points); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

func TestCenterIgnoresOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mid := position(-80, 80).Draw(t, "middle")
		var points []orb.Point
		for range rapid.IntRange(1, 8).Draw(t, "n") {
			points = append(points, offset(t, mid, 2e6))
		}
		other := rapid.Permutation(points).Draw(t, "order")
		if a, b := Center(points), Center(other); a != b {
			t.Fatalf("%v and %v", a, b)
		}
	})
}

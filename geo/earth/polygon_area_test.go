package earth

import (
	"math"
	"slices"
	"testing"

	"driftreach/geo"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Published: test suite of GeographicLib (C. Karney).
func TestAreaOfPublishedPolygons(t *testing.T) {
	for _, c := range []struct {
		name      string
		r         orb.Ring
		want      float64
		tolerance float64
	}{
		{"triangle", orb.Ring{{1, 2}, {2, 1}, {3, 3}}, 18454562325.45119, 1e-4},
		{"degree cell at the origin", orb.Ring{{0, 0}, {1, 0}, {1, 1}, {0, 1}}, 12308778361.5, 0.05},
		{"round the north pole", orb.Ring{{0, 89}, {90, 89}, {180, 89}, {270, 89}}, 24952305678.0, 0.5},
		{"hundredth of a degree at 34 N", orb.Ring{{-117, 34}, {-116.99, 34}, {-116.99, 34.01}, {-117, 34.01}}, 1024694.9, 0.05},
	} {
		near(t, c.name, float64(RingArea(c.r)), c.want, c.tolerance)
		slices.Reverse(c.r)
		near(t, c.name+", clockwise", float64(RingArea(c.r)), c.want, c.tolerance)
	}
	cell := RingArea(orb.Ring{{-117, 34}, {-116.99, 34}, {-116.99, 34.01}, {-117, 34.01}})
	near(t, "acres", float64(cell.Acres()), 253.208, 5e-4)
}

// Reference program: GeographicLib Planimeter, scripts/oracle_earth.py. Its own
// sums lose about 3e-5 m2 an edge by cancellation: e2 c2 times rounding.
func TestAreaAgreesWithGeographicLib(t *testing.T) {
	short := 0
	for _, row := range oracle(t, "polygons.txt", true) {
		var r orb.Ring
		for i := 2; i < len(row.v); i += 2 {
			r = append(r, orb.Point{row.v[i], row.v[i+1]})
		}
		if _, ok := ringAreaShort(r); ok {
			short++
		}
		want := row.v[0]
		near(t, row.name+" area", float64(RingArea(r)), want, 1e-4+1e-9*want)
		near(t, row.name+" perimeter", float64(Perimeter(r)), row.v[1], 1e-6)
		r = append(r, r[0])
		near(t, row.name+" area, closed", float64(RingArea(r)), want, 1e-4+1e-9*want)
	}
	if short < 50 {
		t.Errorf("only %d rings went the short way", short)
	}
}

// star draws a ring around p, with radii from half of radius to all of it, and longitudes that
// continue from that of p.
func star(t *rapid.T, p orb.Point, radius float64) orb.Ring {
	n := rapid.IntRange(3, 24).Draw(t, "vertices")
	r := make(orb.Ring, 0, n+1)
	for i := range n {
		azi := -360 * (float64(i) + rapid.Float64Range(0, 0.9).Draw(t, "turn")) / float64(n)
		d := radius * rapid.Float64Range(0.5, 1).Draw(t, "radius")
		q, _ := WGS84.Direct(p, azi, geo.Meters(d))
		r = append(r, q)
	}
	return append(r, r[0])
}

// The series for short edges against the geodesic sum.
func TestShortRingAgreesWithGeodesics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := position(-71.9, 71.9).Draw(t, "p")
		radius := math.Pow(10, rapid.Float64Range(0, 3.3).Draw(t, "log radius"))
		r := star(t, p, radius)
		got, ok := ringAreaShort(r)
		if !ok {
			t.Skip("not short")
		}
		want := ringAreaGeodesic(r)
		near(t, "area", got, want, 2e-4+1e-10*math.Abs(want))
	})
}

// The series for short edges, compared with the equal-area frame, where straight edges are
// geodesics to 1e-10 for such small areas: without the cancellation of the geodesic sum.
func TestShortRingAgreesWithFrame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := position(-71.9, 71.9).Draw(t, "p")
		r := star(t, p, math.Pow(10, rapid.Float64Range(0, 2.3).Draw(t, "log radius")))
		got, ok := ringAreaShort(r)
		if !ok {
			t.Skip("not short")
		}
		want := float64(geo.PolygonArea(NewFrame(p).Project(orb.MultiPolygon{{r}})))
		near(t, "area", math.Abs(got), want, 1e-8*float64(Perimeter(r))+2e-10*want)
	})
}

// In long thin rings the bulge of an edge matters most.
func TestShortRingLongAndThin(t *testing.T) {
	for _, lat := range []float64{-71, -45, -0.02, 0.01, 33, 60, 71.9} {
		k, _ := LocalScale(lat)
		_, m := LocalScale(lat)
		r := orb.Ring{{20, lat}, {20 + min(3200/k, 0.059), lat}, {20 + min(3200/k, 0.059), lat + 2/m}, {20, lat + 2/m}}
		got, ok := ringAreaShort(r)
		if !ok {
			t.Fatalf("latitude %v: edge is not short", lat)
		}
		near(t, "area", got, ringAreaGeodesic(r), 1e-4)
		r = orb.Ring{{20, lat}, {20 + 2/k, lat + 3000/m}, {20 - 2/k, lat + 3000/m}}
		if got, ok = ringAreaShort(r); ok {
			near(t, "area", got, ringAreaGeodesic(r), 2e-4)
		}
	}
}

func TestRingAreaGoesTheLongWay(t *testing.T) {
	for _, c := range []struct {
		name string
		r    orb.Ring
	}{
		{"long edge", orb.Ring{{0, 0}, {0.061, 0}, {0.02, 0.01}}},
		{"long edge northward", orb.Ring{{0, 0}, {0.01, 0.031}, {0, 0.02}}},
		{"high latitude", orb.Ring{{0, 72.01}, {0.01, 72.01}, {0, 72.02}}},
		{"last vertex high", orb.Ring{{0, 71.99}, {0.01, 71.99}, {0, 80.001}}},
		{"not a number", orb.Ring{{0, 0}, {math.NaN(), 0.01}, {0.01, 0.01}}},
	} {
		if _, ok := ringAreaShort(c.r); ok {
			t.Errorf("%s: went the short way", c.name)
		}
	}
	if !math.IsNaN(float64(RingArea(orb.Ring{{0, 0}, {math.NaN(), 0.01}, {0.01, 0.01}}))) {
		t.Error("area hides a position that is not a number")
	}
}

func TestAreaSubtractsHoles(t *testing.T) {
	outer := orb.Ring{{10, 50}, {10.02, 50}, {10.02, 50.02}, {10, 50.02}, {10, 50}}
	hole := orb.Ring{{10.005, 50.005}, {10.01, 50.005}, {10.01, 50.01}, {10.005, 50.005}}
	want := RingArea(outer) - RingArea(hole)
	if got := Area(orb.MultiPolygon{{outer, hole}}); got != want {
		t.Errorf("area %v, want %v", got, want)
	}
	two := Area(orb.MultiPolygon{{outer}, {{{20, 0}, {20.01, 0}, {20, 0.01}}}})
	if two != RingArea(outer)+RingArea(orb.Ring{{20, 0}, {20.01, 0}, {20, 0.01}}) {
		t.Errorf("area of two polygons is %v", two)
	}
	if Area(nil) != 0 || RingArea(nil) != 0 || RingArea(orb.Ring{{1, 1}}) != 0 || RingArea(orb.Ring{{1, 1}, {2, 9}}) != 0 {
		t.Error("degenerate rings have an area")
	}
}

// Turning the globe changes no area, and neither does wrapping a longitude.
func TestAreaAnywhereRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := position(-75, 75).Draw(t, "p")
		r := star(t, p, math.Pow(10, rapid.Float64Range(1, 6).Draw(t, "log radius")))
		want := float64(RingArea(r))
		turned, wrapped := slices.Clone(r), slices.Clone(r)
		for i := range r {
			turned[i][0] += 180 - p[0]
			wrapped[i][0] = Wrap(r[i][0])
		}
		near(t, "turned", float64(RingArea(turned)), want, 1e-3+2e-9*want)
		near(t, "wrapped", float64(RingArea(wrapped)), want, 1e-3+2e-9*want)
	})
}

// A sphere is not the earth. Derived by hand: a small cell on the sphere of the
// equatorial radius is too large by a^2/(M N) - 1, which is 0.67 % at the equator
// and 0.25 % at 34 degrees.
func TestAreaIsNotSpherical(t *testing.T) {
	for lat, percent := range map[float64]float64{0: 0.67, 34: 0.25} {
		r := orb.Ring{{-117, lat}, {-116.99, lat}, {-116.99, lat + 0.01}, {-117, lat + 0.01}}
		rad := math.Pi / 180
		sphere := 6378137 * 6378137 * 0.01 * rad * (math.Sin((lat+0.01)*rad) - math.Sin(lat*rad))
		near(t, "sphere's excess in percent", (sphere/float64(RingArea(r))-1)*100, percent, 0.005)
	}
}

func BenchmarkRingArea(b *testing.B) {
	r := benchmarkRing(1000)
	for b.Loop() {
		RingArea(r)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1000, "ns/vertex")
}

func BenchmarkRingAreaGeodesic(b *testing.B) {
	r := benchmarkRing(1000)
	for b.Loop() {
		ringAreaGeodesic(r)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1000, "ns/vertex")
}

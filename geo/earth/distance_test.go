package earth

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Reference program: GeographicLib GeodSolve, scripts/oracle_earth.py.
func TestDistanceAgreesWithGeographicLib(t *testing.T) {
	for _, row := range oracle(t, "geodesics.txt", true) {
		s := float64(Distance(orb.Point{row.v[0], row.v[1]}, orb.Point{row.v[2], row.v[3]}))
		near(t, row.name, s, row.v[6], 3e-8+1e-12*row.v[6])
	}
}

// The short and the long formula agree at the limit of the short one, and below it.
func TestDistanceAgreesWithInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := position(-90, 90).Draw(t, "p")
		q := offset(t, p, math.Pow(10, rapid.Float64Range(-2, 5.1).Draw(t, "log radius")))
		want, _, _ := WGS84.Inverse(p, q)
		near(t, "distance", float64(Distance(p, q)), float64(want), 1e-8+1e-12*float64(want))
	})
}

func TestDistanceAcrossTheAntimeridian(t *testing.T) {
	west, east := orb.Point{179.999, -17}, orb.Point{-179.999, -17}
	// the same line, moved to where no longitude wraps
	want := Distance(orb.Point{9.999, -17}, orb.Point{10.001, -17})
	near(t, "wrapped", float64(Distance(west, east)), float64(want), 2e-9)
	near(t, "continuous", float64(Distance(west, orb.Point{180.001, -17})), float64(want), 2e-9)
	if Distance(east, east) != 0 {
		t.Error("distance of a point from itself is not 0")
	}
	if !math.IsNaN(float64(Distance(orb.Point{math.NaN(), 1}, west))) {
		t.Error("distance hides a position that is not a number")
	}
}

// Splitting a geodesic does not change its length.
func TestLineLengthAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := position(-89, 89).Draw(t, "p")
		azi := rapid.Float64Range(-180, 180).Draw(t, "azimuth")
		n := rapid.IntRange(1, 20).Draw(t, "pieces")
		step := rapid.Float64Range(1, 3e5).Draw(t, "step")
		line := orb.LineString{p}
		for i := 1; i <= n; i++ {
			q, _ := WGS84.Direct(p, azi, metersOf(step*float64(i)))
			line = append(line, q)
		}
		near(t, "length", float64(LineLength(line)), step*float64(n), 1e-7+1e-8*float64(n))
		for i, along := range LengthsAlong(line) {
			if along != LineLength(line[:i+1]) {
				t.Fatalf("%v m along vertex %d, not %v", along, i, LineLength(line[:i+1]))
			}
		}
	})
	if len(LengthsAlong(nil)) != 0 {
		t.Error("no line has lengths along it")
	}
	if LineLength(nil) != 0 || LineLength(orb.LineString{{1, 2}}) != 0 {
		t.Error("a line of no or one vertex has a length")
	}
}

// Published: GeographicLib test suite, cell of one degree at the origin.
func TestPerimeterOfDegreeCell(t *testing.T) {
	open := orb.Ring{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	near(t, "open", float64(Perimeter(open)), 443770.917248, 1e-6)
	near(t, "closed", float64(Perimeter(append(open, open[0]))), 443770.917248, 1e-6)
	if Perimeter(nil) != 0 {
		t.Error("an empty ring has a perimeter")
	}
}

func BenchmarkDistance(b *testing.B) {
	p, q := orb.Point{10, 50}, orb.Point{10.01, 50.01}
	for b.Loop() {
		Distance(p, q)
	}
}

func BenchmarkLineLength(b *testing.B) {
	line := benchmarkRing(1000)
	for b.Loop() {
		LineLength(orb.LineString(line))
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1000, "ns/vertex")
}

// benchmarkRing is a circle of about 1 km round 10 E 50 N.
func benchmarkRing(n int) orb.Ring {
	r := make(orb.Ring, n)
	for i := range r {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r[i] = orb.Point{10 + 0.015*c, 50 + 0.01*s}
	}
	return r
}

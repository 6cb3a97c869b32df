package earth

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Published: test suite of GeographicLib (C. Karney), the case of the inverse
// problem (35.60777, -139.44815) to (-11.17491, -69.95921).
func TestInverseOfPublishedCase(t *testing.T) {
	s, azi1, azi2 := WGS84.Inverse(orb.Point{-139.44815, 35.60777}, orb.Point{-69.95921, -11.17491})
	near(t, "s12", float64(s), 8935244.5604818305, 1e-8)
	near(t, "azi1", azi1, 111.098748429560326, 1e-13)
	near(t, "azi2", azi2, 129.289270889708762, 1e-13)
}

// Reference program: GeographicLib GeodSolve, scripts/oracle_earth.py.
func TestInverseAgreesWithGeographicLib(t *testing.T) {
	for _, row := range oracle(t, "geodesics.txt", true) {
		p, q := orb.Point{row.v[0], row.v[1]}, orb.Point{row.v[2], row.v[3]}
		s, azi1, azi2 := WGS84.Inverse(p, q)
		near(t, row.name+" length", float64(s), row.v[6], 3e-8)
		// an azimuth error moves the far end by the reduced length: compared there
		if s > 0.001 && s < 19.9e6 {
			near(t, row.name+" azimuth", turn(azi1-row.v[4])*radiansPerDegree*math.Min(float64(s), 6e6), 0, 1e-6)
			near(t, row.name+" azimuth", turn(azi2-row.v[5])*radiansPerDegree*math.Min(float64(s), 6e6), 0, 1e-6)
		}
		back, azi := WGS84.Direct(p, azi1, s)
		near(t, row.name+" direct", degreesOff(orb.Point{q[0] + turn(back[0]-q[0]), back[1]}, q), 0, 3e-8)
		if math.Abs(q[1]) < 89 {
			near(t, row.name+" direct azimuth", turn(azi-azi2), 0, 1e-9)
		}
	}
}

// Reference program: as above; the last column is the area under the line.
func TestAreaUnderAgreesWithGeographicLib(t *testing.T) {
	for _, row := range oracle(t, "geodesics.txt", true) {
		if row.name == "over-pole" || row.name == "pole" || row.name == "equator-antipodal" {
			continue // two directions: the sign of the area is a matter of choice
		}
		l := wgs84Geodesic.inverseArea(orb.Point{row.v[0], row.v[1]}, orb.Point{row.v[2], row.v[3]})
		tolerance := 0.2
		if row.name == "antipodal" {
			tolerance = 30 // the azimuth is weak there
		}
		near(t, row.name+" area", l.area, row.v[7], tolerance)
	}
}

// Derived by hand: quadrant of the equator a pi/2; half turns; coincidence.
// Published: quarter meridian of WGS 84 10001965.729 m (Karney 2013, table 1).
func TestInverseOfSpecialLines(t *testing.T) {
	for _, c := range []struct {
		name      string
		p, q      orb.Point
		s         float64
		tolerance float64
	}{
		{"same point", orb.Point{10, 20}, orb.Point{10, 20}, 0, 0},
		{"same point, other name", orb.Point{180, 20}, orb.Point{-180, 20}, 0, 0},
		{"quarter equator", orb.Point{-45, 0}, orb.Point{45, 0}, 6378137 * math.Pi / 2, 1e-8},
		{"quarter meridian", orb.Point{7, 0}, orb.Point{7, 90}, 10001965.729, 5e-4},
		{"pole to pole", orb.Point{7, -90}, orb.Point{100, 90}, 2 * 10001965.729, 1e-3},
		{"opposite on the equator: over a pole", orb.Point{0, 0}, orb.Point{180, 0}, 2 * 10001965.729, 1e-3},
		{"at a pole, any longitude", orb.Point{7, 90}, orb.Point{-100, 90}, 0, 1e-9},
	} {
		s, _, _ := WGS84.Inverse(c.p, c.q)
		near(t, c.name, float64(s), c.s, c.tolerance)
	}
	for _, p := range []orb.Point{{math.NaN(), 0}, {0, math.NaN()}} {
		if s, _, _ := WGS84.Inverse(p, orb.Point{}); !math.IsNaN(float64(s)) {
			t.Errorf("length from %v is %v", p, s)
		}
	}
}

// On a sphere the haversine formula is exact.
func TestInverseOnSphere(t *testing.T) {
	sphere := Ellipsoid{A: 6371000}
	rapid.Check(t, func(t *rapid.T) {
		p, q := position(-90, 90).Draw(t, "p"), position(-90, 90).Draw(t, "q")
		s, _, _ := sphere.Inverse(p, q)
		near(t, "length", float64(s), haversine(p, q)*sphere.A, 0.2)
		if s < 1e7 {
			near(t, "length", float64(s), haversine(p, q)*sphere.A, 1e-6)
		}
	})
}

func haversine(p, q orb.Point) float64 {
	rad := math.Pi / 180
	a, b := math.Sin((q[1]-p[1])/2*rad), math.Sin((q[0]-p[0])/2*rad)
	h := a*a + math.Cos(p[1]*rad)*math.Cos(q[1]*rad)*b*b
	return 2 * math.Asin(math.Min(1, math.Sqrt(h)))
}

func TestDirectUndoesInverse(t *testing.T) {
	for _, e := range []Ellipsoid{WGS84, clarke1866, {A: 6.4e6, F: 1.0 / 150}} {
		rapid.Check(t, func(t *rapid.T) {
			p, q := position(-89, 89).Draw(t, "p"), position(-89, 89).Draw(t, "q")
			s, azi, _ := e.Inverse(p, q)
			back, _ := e.Direct(p, azi, s)
			near(t, "position", degreesOff(orb.Point{q[0] + turn(back[0]-q[0]), back[1]}, q), 0, 1e-6)
			again, _, _ := e.Inverse(q, p)
			near(t, "length back", float64(again), float64(s), 2e-8)
		})
	}
}

// Longitude continues: three and a half quarters of a turn east are not half a quarter west.
func TestDirectKeepsWholeTurns(t *testing.T) {
	q, azi := WGS84.Direct(orb.Point{170, 0}, 90, metersOf(WGS84.A*270*radiansPerDegree))
	near(t, "longitude", q[0], 440, 1e-11)
	near(t, "azimuth", azi, 90, 1e-12)
	q, _ = WGS84.Direct(orb.Point{-170, 0}, -90, metersOf(WGS84.A*20*radiansPerDegree))
	near(t, "longitude", q[0], -190, 1e-11)
}

func BenchmarkInverseShort(b *testing.B) {
	p, q := orb.Point{10, 50}, orb.Point{10.01, 50.01}
	for b.Loop() {
		WGS84.Inverse(p, q)
	}
}

func BenchmarkDirect(b *testing.B) {
	for b.Loop() {
		WGS84.Direct(orb.Point{10, 50}, 30, 5000)
	}
}

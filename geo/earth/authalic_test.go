package earth

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Published: Snyder, USGS Professional Paper 1395, pages 333 and 299: Clarke
// 1866, latitude 40: authalic latitude 39.8722878, Rq 6370997.2.
func TestAuthalicOfClarke(t *testing.T) {
	table := newAuthalic(clarke1866)
	s, c := table.sincos(sincosDegrees(40))
	near(t, "authalic latitude", math.Atan2(s, c)*degreesPerRadian, 39.8722878, 1e-7)
	near(t, "radius", table.radius, 6370997.2, 0.05)
}

// Reference: the closed form, Snyder equation 3-12, with logarithms.
func TestAuthalicAgreesWithClosedForm(t *testing.T) {
	table := newAuthalic(WGS84)
	e := WGS84.Eccentricity()
	q := func(s float64) float64 { return (1 - e*e) * (s/(1-e*e*s*s) + math.Atanh(e*s)/e) }
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "lat")
		sin, cos := sincosDegrees(lat)
		s, c := table.sincos(sin, cos)
		near(t, "sine", s, q(sin)/q(1), 7e-16)
		near(t, "length", math.Hypot(s, c), 1, 7e-16)
		near(t, "back", table.latitude(s, c)*degreesPerRadian, lat, 3e-14)
	})
	near(t, "radius", table.radius, WGS84.A*math.Sqrt(q(1)/2), 2e-9)
}

// A flattening of 1/150 is twice the earth's: the series are still accurate to 1e-9.
func TestAuthalicOfFlatterEllipsoid(t *testing.T) {
	table := newAuthalic(Ellipsoid{A: 6.4e6, F: 1.0 / 150})
	for lat := -90.0; lat <= 90; lat += 7.5 {
		s, c := table.sincos(sincosDegrees(lat))
		near(t, "back", table.latitude(s, c)*degreesPerRadian, lat, 1e-12)
	}
}

// The sine and cosine of the authalic latitude may be given as the sides of any right triangle: 3
// and 4 mean 0.6 and 0.8.
func TestAuthalicOfAnyLength(t *testing.T) {
	table := newAuthalic(WGS84)
	for _, size := range []float64{5, 0.01, 1e6} {
		near(t, "latitude", table.latitude(0.6*size, 0.8*size), table.latitude(0.6, 0.8), 1e-15)
	}
	near(t, "it is geodetic", table.latitude(0.6, 0.8)*degreesPerRadian, 36.993, 0.001)
}

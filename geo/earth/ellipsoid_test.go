package earth

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Published: NGA.STND.0036 (WGS 84), table 3.5: b, e2; Snyder, USGS Professional
// Paper 1395, page 12: Clarke 1866 e2.
func TestEllipsoidConstants(t *testing.T) {
	near(t, "WGS 84 b", WGS84.B(), 6356752.3142, 5e-5)
	near(t, "WGS 84 e2", WGS84.E2(), 6.694379990141e-3, 5e-16)
	near(t, "Clarke 1866 e2", clarke1866.E2(), 0.00676866, 5e-9)
	// third flattening by hand from the two radii
	near(t, "WGS 84 n", WGS84.N(), (6378137-WGS84.B())/(6378137+WGS84.B()), 1e-16)
}

// Derived by hand: on the equator a degree of longitude is a pi/180 and one of
// latitude a (1-e2) pi/180; at the pole a degree of latitude is a^2/b pi/180.
func TestLocalScaleAtEquatorAndPole(t *testing.T) {
	lon, lat := LocalScale(0)
	near(t, "longitude at 0", lon, 6378137*math.Pi/180, 1e-8)
	near(t, "latitude at 0", lat, 6378137*(1-WGS84.E2())*math.Pi/180, 1e-8)
	lon, lat = LocalScale(-90)
	near(t, "longitude at 90 S", lon, 0, 1e-10)
	near(t, "latitude at 90 S", lat, 6378137*6378137/WGS84.B()*math.Pi/180, 1e-7)
}

func TestLocalScaleAgreesWithGeodesics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := position(-85, 85).Draw(t, "p")
		lon, lat := LocalScale(p[1])
		const d = 1e-3
		north, _, _ := WGS84.Inverse(orb.Point{p[0], p[1] - d/2}, orb.Point{p[0], p[1] + d/2})
		east, _, _ := WGS84.Inverse(p, orb.Point{p[0] + d, p[1]})
		near(t, "along the meridian", float64(north), lat*d, 1e-6)
		near(t, "along the parallel", float64(east), lon*d, 1e-6)
	})
}

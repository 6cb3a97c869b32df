package earth

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// TestEqualAreaCylinder: places from PROJ 9.1.1, cs2cs EPSG:4326 to EPSG:6933 (cea, lat_ts 30),
// printed to a micrometre; and the inverse.
func TestEqualAreaCylinder(t *testing.T) {
	c := NewEqualAreaCylinder()
	for _, one := range []struct{ lonlat, xy orb.Point }{
		{orb.Point{10, 0}, orb.Point{964862.802509, 0}},
		{orb.Point{-128.1126251, -38.5398012}, orb.Point{-12361110.649077, -4562096.678103}},
		{orb.Point{179.9999, 84.5}, orb.Point{17367520.796533, 7308126.060065}},
		{orb.Point{-70.25, -55.125}, orb.Point{-6778161.187625, -6014737.488385}},
		{orb.Point{0, 30}, orb.Point{0, 3658789.324855}},
	} {
		got := c.Forward(one.lonlat)
		if d := math.Hypot(got[0]-one.xy[0], got[1]-one.xy[1]); d > 2e-6 {
			t.Errorf("%v is at %v, %g m from %v", one.lonlat, got, d, one.xy)
		}
		back := c.Inverse(got)
		if d := math.Hypot(back[0]-one.lonlat[0], back[1]-one.lonlat[1]); d > 1e-12*180 {
			t.Errorf("%v comes back as %v", one.lonlat, back)
		}
		corner := c.Inverse(orb.Point{got[0] + 500, got[1] + 500})
		want := float64(Distance(one.lonlat, corner))
		if half := c.HalfDiagonal(one.lonlat[1], 1000); math.Abs(half-want) > 0.02*want {
			t.Errorf("half a diagonal at %v is %g m, by the geodesic %g", one.lonlat, half, want)
		}
	}
}

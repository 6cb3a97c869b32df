package linear

import (
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// TestVicinityIsSure: every place that the vicinity holds is within the radius of the single
// vertex, by geodesic distance, anywhere on earth. The vertex itself is held.
func TestVicinityIsSure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius := geo.Meters(rapid.Float64Range(10, 50_000).Draw(t, "radius"))
		at := orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-84, 84).Draw(t, "lat")}
		v := NewVicinity([]orb.LineString{{at}}, radius)
		if !v.Holds(at) {
			t.Fatalf("%v does not hold its own vertex", at)
		}
		away := rapid.Float64Range(0, 2*float64(radius)).Draw(t, "away")
		p, _ := earth.WGS84.Direct(at, rapid.Float64Range(-180, 180).Draw(t, "azimuth"), geo.Meters(away))
		if d := earth.Distance(at, p); v.Holds(p) && d > radius*1.0000001 {
			t.Fatalf("%v is held, %v m from %v with a radius of %v", p, d, at, radius)
		}
	})
}

// TestVicinityHolds: of places a tenth of the radius away most are held.
func TestVicinityHolds(t *testing.T) {
	held := 0
	for i := range 100 {
		at := orb.Point{float64(i)*3.3 - 165.01, float64(i)*1.6 - 80.02}
		p, _ := earth.WGS84.Direct(at, float64(37*i), 200)
		if NewVicinity([]orb.LineString{{at}}, 2000).Holds(p) {
			held++
		}
	}
	if held < 60 {
		t.Errorf("%d of 100 near places are held", held)
	}
}

package earth

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// TestRunOn: paths across 180 degrees, by hand.
func TestRunOn(t *testing.T) {
	for _, c := range []struct {
		name string
		path orb.LineString
		from float64
		want orb.LineString
	}{
		{"stays", orb.LineString{{10, 1}, {-20, 2}}, 10, orb.LineString{{10, 1}, {-20, 2}}},
		{"runs on east", orb.LineString{{179.5, 1}, {-179.5, 1}, {179, 1}}, 179.5, orb.LineString{{179.5, 1}, {180.5, 1}, {179, 1}}},
		{"runs on west", orb.LineString{{-179.5, 1}, {179.5, 1}}, -179.5, orb.LineString{{-179.5, 1}, {-180.5, 1}}},
		{"from the other side", orb.LineString{{-179, 1}, {-178, 1}}, 179, orb.LineString{{181, 1}, {182, 1}}},
		{"past 180 comes back", orb.LineString{{181, 1}, {182, 1}}, 181, orb.LineString{{-179, 1}, {-178, 1}}},
		{"180 stays", orb.LineString{{180, 1}, {-180, 1}}, 180, orb.LineString{{180, 1}, {180, 1}}},
		{"nothing", nil, 0, nil},
	} {
		RunOn(c.path, c.from)
		if fmt.Sprint(c.path) != fmt.Sprint(c.want) {
			t.Errorf("%s: %v, want %v", c.name, c.path, c.want)
		}
	}
}

// TestRunOnKeepsRingsClosed: for any longitudes, a ring's last vertex stays equal to its first to
// the last bit, and its sides keep their lengths.
func TestRunOnKeepsRingsClosed(t *testing.T) {
	for k := range 2000 {
		ring := make(orb.Ring, 5)
		for i := range ring[:4] {
			ring[i] = orb.Point{Turned(180 + math.Sin(float64(7*k+i))/3), math.Cos(float64(5*k + i))}
		}
		ring[4] = ring[0]
		RunOnAreas(orb.MultiPolygon{{ring}})
		if !ring.Closed() || ring.Bound().Max[0]-ring.Bound().Min[0] > 1 {
			t.Fatalf("ring %d became %v", k, ring)
		}
	}
}

// TestEveryTurn: a polygon that continues past 180 is also returned one turn to the west, one far
// from it only once. By hand.
func TestEveryTurn(t *testing.T) {
	at := func(x float64) orb.Polygon { return orb.Polygon{{{x, 1}, {x + 2, 1}, {x + 2, 2}, {x, 1}}} }
	for _, c := range []struct {
		from float64
		want []float64
	}{{0, []float64{0}}, {179, []float64{179, -181}}, {-181, []float64{-181, 179}}, {-170, []float64{-170, 190}}, {150, []float64{150}}} {
		var got []float64
		for _, p := range EveryTurn(orb.MultiPolygon{at(c.from)}, 20) {
			got = append(got, p[0][0][0])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("from %g: %v, want %v", c.from, got, c.want)
		}
	}
}

// TestRunOnAreas: parts on both sides of the antimeridian, as cut by RFC 7946, come together; a
// part without vertices is not used as the start.
func TestRunOnAreas(t *testing.T) {
	areas := orb.MultiPolygon{
		{{}},
		{{{179, 1}, {180, 1}, {180, 2}, {179, 1}}},
		{{{-180, 1}, {-179, 1}, {-180, 2}, {-180, 1}}},
	}
	RunOnAreas(areas)
	want := orb.MultiPolygon{{{}}, {{{179, 1}, {180, 1}, {180, 2}, {179, 1}}}, {{{180, 1}, {181, 1}, {180, 2}, {180, 1}}}}
	if fmt.Sprint(areas) != fmt.Sprint(want) {
		t.Errorf("%v, want %v", areas, want)
	}
}

package earth

import (
	"fmt"
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

// TestRunOnAreas: parts on both sides of the antimeridian, as RFC 7946 cuts
// them, come together; a part without vertices is no place to start from.
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

package unit

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// TestSliversOfTenSquareMetres: an overlap and a gap of a little less than ten square metres are not
// told, and of a little more are. The widths are taken from the area of a wide one by proportion.
func TestSliversOfTenSquareMetres(t *testing.T) {
	const south, north = -20.001, -20.0
	strip := func(west, east float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}}
	}
	perDegree := float64(earth.Area(strip(10, 10.001))) / 0.001
	for area, told := range map[float64]string{9.5: "", 10.5: "b unit-overlap"} {
		_, findings := Check([]Unit{{ID: "a", File: "u", Areas: strip(10, 10.001)}, {ID: "b", File: "u", Areas: strip(10.001-area/perDegree, 10.002)}}, Options{})
		if got := codes(findings); got != told {
			t.Errorf("an overlap of %v m2: %q, want %q", area, got, told)
		}
	}
	for area, told := range map[float64]bool{9.5: false, 10.5: true} { // a gap between a frame and what fills it
		gap := area / perDegree
		frame := orb.MultiPolygon{{{{9.99, -20.01}, {10.01, -20.01}, {10.01, -19.99}, {9.99, -19.99}, {9.99, -20.01}}, {{10, south}, {10, north}, {10.001, north}, {10.001, south}, {10, south}}}}
		_, findings := Check([]Unit{{ID: "a", File: "u", Areas: frame}, {ID: "b", File: "u", Areas: strip(10, 10.001-gap)}}, Options{})
		if got := codes(findings); strings.Contains(got, "unit-gap") != told {
			t.Errorf("a gap of %v m2: %q", area, got)
		}
	}
}

// TestUnitsWithoutGround: outlines that enclose nothing are rejected, drawn or not.
func TestUnitsWithoutGround(t *testing.T) {
	for name, areas := range map[string]orb.MultiPolygon{"none": nil, "a line": {{{{10, -20}, {11, -20}, {10, -20}, {10, -20}}}}, "a point": {{{{10, -20}, {10, -20}, {10, -20}, {10, -20}}}}} {
		if kept, findings := Check([]Unit{{ID: "a", File: "u", Areas: areas}}, Options{}); len(kept) > 0 || len(findings) == 0 {
			t.Errorf("%s: %d kept, %s", name, len(kept), codes(findings))
		}
	}
}

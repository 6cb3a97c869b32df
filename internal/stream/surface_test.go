package stream

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// pond is a valid surface.
func pond(id string, x float64) Surface {
	return Surface{ID: id, File: "w.geojson", Row: 1, Kind: "lake", Areas: orb.MultiPolygon{{{{x, 1}, {x + 0.1, 1}, {x + 0.1, 1.1}, {x, 1.1}, {x, 1}}}}}
}

// TestCheckSurfaces checks the finding for every kind of bad water surface; by hand.
func TestCheckSurfaces(t *testing.T) {
	bad := func(change func(s *Surface)) []Surface {
		s := pond("a", 1)
		change(&s)
		return []Surface{s}
	}
	for _, c := range []struct {
		name  string
		given []Surface
		told  string
		kept  int
	}{
		{"sound", []Surface{pond("a", 1), pond("b", 2)}, "", 2},
		{"no outline", bad(func(s *Surface) { s.Areas = nil }), "a water-empty", 0},
		{"not finite", bad(func(s *Surface) { s.Areas[0][0][1][0] = math.NaN() }), "a water-not-finite", 0},
		{"out of range", bad(func(s *Surface) { s.Areas[0][0][1][1] = 95 }), "a water-out-of-range", 0},
		{"null island", bad(func(s *Surface) { s.Areas[0][0][1] = orb.Point{} }), "a water-null-island", 0},
		{"a line", bad(func(s *Surface) { s.Areas = orb.MultiPolygon{{{{1, 1}, {2, 1}, {3, 1}, {1, 1}}}} }), "a water-without-area", 0},
		{"a bow tie", bad(func(s *Surface) { s.Areas = orb.MultiPolygon{{{{1, 1}, {2, 2}, {2, 1}, {1, 2}, {1, 1}}}} }), "a water-outline-repaired", 1},
		{"no id", bad(func(s *Surface) { s.ID = "" }), "row 1 water-id-missing", 1},
		{"a copy", []Surface{pond("a", 1), pond("a", 1)}, "a water-duplicate", 1},
		{"one id twice", []Surface{pond("a", 1), pond("a", 2)}, "a water-id-duplicate", 2},
		{"an unknown kind", bad(func(s *Surface) { s.Kind = "bog" }), "a water-kind-unknown", 1},
	} {
		kept, findings := CheckSurfaces(c.given, Options{})
		if got := told(findings); got != c.told || len(kept) != c.kept {
			t.Errorf("%s: %q, %d kept; want %q, %d", c.name, got, len(kept), c.told, c.kept)
		}
	}
}

// TestParseSurfaceKind: the words and codes of the National Hydrography Dataset's
// feature catalog (U.S. Geological Survey): LakePond 390, Reservoir 436, StreamRiver 460.
func TestParseSurfaceKind(t *testing.T) {
	for word, want := range map[string]SurfaceKind{
		"Lake": Lake, "LakePond": Lake, "39004": Lake, "436": Lake, "StreamRiver": River, "46006": River, "43": "", "": "", "3900": "",
	} {
		if got, known := ParseSurfaceKind(word); got != want || known != (want != "") {
			t.Errorf("%q is %q, want %q", word, got, want)
		}
	}
}

// TestSurfaceRules: each rule has a remedy and a code that no other rule has.
func TestSurfaceRules(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range append(append(Rules(), StructureRules()...), SurfaceRules()...) {
		if r.Code == "" || r.Remedy == "" || seen[r.Code] {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
}

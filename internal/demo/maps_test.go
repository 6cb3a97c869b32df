package demo

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// mapPiece is a feature read without using this package.
type mapPiece struct {
	Type     string
	Geometry struct {
		Type        string
		Coordinates json.RawMessage
	}
	Properties map[string]any
}

func readMap(t *testing.T, text []byte) []mapPiece {
	t.Helper()
	var doc struct {
		Type     string
		Features []mapPiece
	}
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Type != "FeatureCollection" || len(doc.Features) == 0 {
		t.Fatalf("%q of %d features", doc.Type, len(doc.Features))
	}
	return doc.Features
}

func coordinates[T any](t *testing.T, f mapPiece) (out T) {
	t.Helper()
	if err := json.Unmarshal(f.Geometry.Coordinates, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// districts returns the country's districts as read from the file.
func districts(t *testing.T, s Scenario) []orb.Polygon {
	t.Helper()
	var out []orb.Polygon
	for _, f := range readMap(t, s.Units) {
		out = append(out, coordinates[orb.Polygon](t, f))
	}
	return out
}

func within(land []orb.Polygon, p orb.Point) bool {
	for _, unit := range land {
		if planar.PolygonContains(unit, p) {
			return true
		}
	}
	return false
}

func TestDistrictsFillTheCountry(t *testing.T) {
	for _, seed := range seeds {
		land := settle(seed)
		sum := 0.0
		for _, unit := range districts(t, made(seed)) {
			if unit[0][0] != unit[0][len(unit[0])-1] {
				t.Errorf("seed %d: open ring", seed)
			}
			if unit[0].Orientation() != orb.CCW {
				t.Errorf("seed %d: ring runs clockwise", seed)
			}
			sum += planar.Area(unit)
		}
		var coast orb.Ring
		for _, p := range land.coast {
			coast = append(coast, degrees(p))
		}
		if whole := planar.Area(coast); math.Abs(sum/whole-1) > 1e-9 {
			t.Errorf("seed %d: districts are %.9f of the country", seed, sum/whole)
		}
	}
}

func TestStreamsStayOnLand(t *testing.T) {
	sea := degrees(mouth)
	for _, seed := range seeds {
		s := made(seed)
		land := districts(t, s)
		for _, f := range readMap(t, s.Streams) {
			for _, p := range coordinates[orb.LineString](t, f) {
				if p != sea && !within(land, p) {
					t.Fatalf("seed %d: %v has %v at sea", seed, f.Properties["stream_id"], p)
				}
			}
		}
	}
}

func TestBarriersOfTheListAreNotOnTheCenterlines(t *testing.T) {
	s := made(1)
	at := map[orb.Point]bool{}
	for _, f := range readMap(t, s.Streams) {
		if f.Properties["barrier"] != nil {
			path := coordinates[orb.LineString](t, f)
			at[path[len(path)-1]] = true
		}
	}
	// Derived by hand: dam, weir and culvert of lines.go.
	if len(at) != 3 {
		t.Errorf("%d barriers on centerlines, want 3", len(at))
	}
	for _, f := range readMap(t, s.Barriers) {
		if at[coordinates[orb.Point](t, f)] {
			t.Errorf("barrier %v stands in both files", f.Properties)
		}
	}
}

func TestSurveyedGroundLeavesOutWhatWasMissed(t *testing.T) {
	for q, files := range made(1).Quarters {
		walked := map[string]bool{}
		for _, f := range readMap(t, files.Surveyed) {
			walked[f.Properties["waterBody"].(string)] = true
		}
		// Derived by hand: floods shut the Vessick in the sixth and seventh quarter,
		// and nobody was at the lake in the eighth.
		for name, want := range map[string]bool{"Vessick River": q != 5 && q != 6, reservoirName: q != 7, "Orvenna River": true} {
			if walked[name] != want {
				t.Errorf("%s: %s walked is %v", files.Quarter, name, !want)
			}
		}
	}
}

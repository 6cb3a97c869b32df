package mapfile

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	geoshape "driftreach/geo/shape"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/verify/validate"
)

// TestGeoJSONReadsBack: an independent decoder (encoding/json) finds the
// fixture's stands with their ids, parts, holes and winding; the stand across
// 180 degrees is cut into parts.
func TestGeoJSONReadsBack(t *testing.T) {
	run := fixture()
	data, err := written(func(b *bytes.Buffer) error { return writeStands(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	var c struct {
		Features []struct {
			ID         string
			Properties map[string]any
			Geometry   struct {
				Type        string
				Coordinates orb.MultiPolygon
			}
		}
	}
	if err := json.Unmarshal(data, &c); err != nil {
		t.Fatal(err)
	}
	for i, f := range c.Features {
		if f.ID != run.Stands[i].ID || f.Properties["stand_id"] != run.Stands[i].ID || f.Geometry.Type != "MultiPolygon" {
			t.Errorf("feature %d: %s, %s; want %s", i, f.ID, f.Geometry.Type, run.Stands[i].ID)
		}
		mp := f.Geometry.Coordinates
		if i/2 != 2 && (len(mp) != 2 || len(mp[0]) != 2 || mp[0][1].Orientation() != orb.CW) {
			t.Errorf("%s: %d parts; drawn with 2, the first with a hole", f.ID, len(mp))
		}
		for _, p := range mp {
			if p[0].Orientation() != orb.CCW {
				t.Errorf("%s: exterior ring is not counter-clockwise", f.ID)
			}
		}
	}
}

// TestGeoJSONText: every nasty text reads back unchanged, except that each byte that is not UTF-8
// becomes the replacement character.
func TestGeoJSONText(t *testing.T) {
	for _, want := range nasty {
		var got string
		if err := json.Unmarshal(appendString(nil, want), &got); err != nil {
			t.Errorf("%q: %v", want, err)
		}
		want = string([]rune(want))
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// FuzzString: any bytes give JSON text that reads back as the same runes.
func FuzzString(f *testing.F) {
	for _, s := range nasty {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		data := appendString(nil, s)
		var got string
		if err := json.Unmarshal(data, &got); err != nil || !utf8.Valid(data) {
			t.Fatalf("%q: %v", data, err)
		}
		if got != string([]rune(s)) {
			t.Errorf("got %q, want %q", got, s)
		}
	})
}

// TestBoundsCrossing: boxes by hand, among them the Fiji example of RFC 7946,
// section 5.2: 177 E to 178 W, 20 S to 16 S is [177, -20, -178, -16].
func TestBoundsCrossing(t *testing.T) {
	for _, c := range []struct {
		name   string
		pieces [][]orb.Point
		want   string
	}{
		{"Fiji", [][]orb.Point{{{177, -20}, {180, -16}}, {{-180, -20}, {-178, -16}}}, "[177,-20,-178,-16]"},
		{"one side", [][]orb.Point{{{170, -20}, {171, -16}}}, "[170,-20,171,-16]"},
		{"west and east of Greenwich", [][]orb.Point{{{-2, 50}}, {{3, 51}}}, "[-2,50,3,51]"},
		{"astride Greenwich", [][]orb.Point{{{-2, 50}, {3, 51}}, {{170, 0}}, {{-170, 0}}}, "[-170,0,170,51]"},
		{"three far points", [][]orb.Point{{{100, 0}}, {{-100, 0}}, {{170, 5}}}, "[100,0,-100,5]"},
		{"one point", [][]orb.Point{{{-0.5, 0.25}}}, "[-0.5,0.25,-0.5,0.25]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var b box
			for _, piece := range c.pieces {
				var places []place
				for _, p := range piece {
					places = append(places, placeOf(p))
				}
				b.addPlaces(places)
			}
			if got := string(b.append(nil)); got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

// TestAppendDegrees: the same digits as the dictionary's own fixed point.
func TestAppendDegrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-2*halfTurn, 2*halfTurn).Draw(t, "n")
		if got, want := string(appendDegrees(nil, n)), string(result.AppendFixed(nil, n, 7)); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	})
}

// TestRingOf: rings by hand; a step is 1e-7 degrees.
func TestRingOf(t *testing.T) {
	const u = 1e-7
	for _, c := range []struct {
		name string
		ring orb.Ring
		want []place
	}{
		{"clockwise is turned", orb.Ring{{0, 0}, {0, u}, {u, 0}, {0, 0}}, []place{{0, 0}, {1, 0}, {0, 1}, {0, 0}}},
		{"open is closed", orb.Ring{{0, 0}, {u, 0}, {0, u}}, []place{{0, 0}, {1, 0}, {0, 1}, {0, 0}}},
		{"vertices that round together", orb.Ring{{0, 0}, {u, 0}, {1.2 * u, 0}, {0, u}, {0, 0}}, []place{{0, 0}, {1, 0}, {0, 1}, {0, 0}}},
		{"spike in the middle", orb.Ring{{0, 0}, {u, 0}, {9 * u, 0}, {u, 0}, {0, u}, {0, 0}}, []place{{0, 0}, {1, 0}, {0, 1}, {0, 0}}},
		{"spike at the seam", orb.Ring{{9 * u, 9 * u}, {0, 0}, {u, 0}, {0, u}, {0, 0}, {9 * u, 9 * u}}, []place{{0, 0}, {1, 0}, {0, 1}, {0, 0}}},
		{"smaller than a step", orb.Ring{{0, 0}, {u / 9, 0}, {0, u / 9}, {0, 0}}, nil},
		{"flat", orb.Ring{{0, 0}, {u, 0}, {2 * u, 0}, {0, 0}}, nil},
		{"not a number", orb.Ring{{0, 0}, {u, math.NaN()}, {0, u}, {0, 0}}, nil},
		{"infinite", orb.Ring{{0, 0}, {math.Inf(1), 0}, {0, u}, {0, 0}}, nil},
		{"empty", nil, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			if d := cmp.Diff(c.want, ringOf(c.ring, true)); d != "" {
				t.Error(d)
			}
		})
	}
}

// TestRingProperty: for any vertices a ring is nil or conforms, and a hole of the same vertices is
// the same ring in the opposite direction.
func TestRingProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 12).Draw(t, "n")
		ring := make(orb.Ring, n)
		for i := range ring {
			ring[i] = orb.Point{float64(rapid.IntRange(0, 4).Draw(t, "x")) * 0.6e-7, float64(rapid.IntRange(0, 4).Draw(t, "y")) * 0.6e-7}
		}
		out, hole := ringOf(ring, true), ringOf(ring, false)
		if (out == nil) != (hole == nil) {
			t.Fatal("a ring that is fit for one way is unfit for the other")
		}
		if out == nil {
			return
		}
		if out[0] != out[len(out)-1] || len(out) < 4 || twiceArea(out) <= 0 || twiceArea(hole) >= 0 {
			t.Fatalf("%v", out)
		}
		for i := 1; i < len(out); i++ {
			if out[i] == out[i-1] {
				t.Fatalf("vertex %d repeats in %v", i, out)
			}
		}
	})
}

// TestUnfitGeometriesBecomeNull: a row without a drawable shape is kept in its place, with a null
// geometry.
func TestUnfitGeometriesBecomeNull(t *testing.T) {
	run := fixture()
	run.Stands[0].Footprint, run.Stands[0].Center = stand.Outline{}, orb.Point{math.NaN(), 0}
	run.Zones[0].Geometry = geoshape.OnSteps{}
	run.Surveyed = lineage.PiecesOf(orb.MultiPolygon{{circle(orb.Point{0, math.NaN()}, 1, 8, false)}}, nil)
	run.Records.Listed[0].Position = orb.Point{math.Inf(1), 0}
	run.Reaches[0].Path = orb.LineString{{1, 1}, {1, 1}}
	for name, nulls := range map[string]int{"stands.geojson": 1, "aquatic_zone.geojson": 1, "points.geojson": 1, "reaches.geojson": 1, "looked_at.geojson": 1, "map.kml": 0} {
		for _, d := range Deliverables(Extras{KML: true, Network: true, Notices: true}) {
			file := made(t, d, run, 1)
			if file.name != name {
				continue
			}
			if r := validated(name, file.data); !r.OK() || r.Features != file.records {
				t.Errorf("%s: %d features, %v", name, r.Features, r.Problems)
			}
			if got := strings.Count(string(file.data), `"geometry":null`); got != nulls {
				t.Errorf("%s: %d features without a geometry, want %d", name, got, nulls)
			}
		}
	}
}

// TestGeoJSONMutantsAreCaught changes the fixture's stands in one way at a time.
func TestGeoJSONMutantsAreCaught(t *testing.T) {
	data, err := written(func(b *bytes.Buffer) error { return writeStands(b, fixture()) })
	if err != nil {
		t.Fatal(err)
	}
	within := validate.Bounds{West: -24, South: -40, East: -179, North: 80}
	if found := validate.GeoJSON(data, within).Problems; len(found) > 0 {
		t.Fatal(found)
	}
	first := "[[[[-20.4995,-34.25],"
	for _, m := range []struct{ name, old, new string }{
		{"swapped coordinates", first, "[[[[-34.25,-20.4995],"},
		{"open ring", first, "[[[[-20.4994,-34.25],"},
		{"longitude beyond 180", first, "[[[[-200.4995,-34.25],"},
		{"not a number", first, "[[[[NaN,-34.25],"},
		{"eight decimals", first, "[[[[-20.49950001,-34.25],"},
		{"three coordinates", first, "[[[[-20.4995,-34.25,0],"},
		{"repeated vertex", first, first + "[-20.4995,-34.25],"},
		{"wrong type", `"type":"MultiPolygon"`, `"type":"Multipolygon"`},
		{"polygon said to be a line", `"type":"MultiPolygon"`, `"type":"MultiLineString"`},
		{"a crs", `"features":[`, `"crs":{},"features":[`},
		{"box too small", `"bbox":[-180,`, `"bbox":[-170,`},
		{"no box", `"bbox"`, `"box"`},
		{"id twice", `"id":"2026Q3-0001"`, `"id":"2026Q3-0000"`},
		{"no id", `"id":"2026Q3-0001",`, ``},
		{"property missing", `"points":2,`, ``},
		{"property twice", `"points":2,`, `"points":2,"points":2,`},
		{"no geometry", `"geometry":{`, `"shape":{`},
		{"cut short", "\n]", ""},
		{"not UTF-8", "far north", "far\xffnorth"},
		{"byte-order mark", `{"type":"FeatureCollection"`, "\uFEFF" + `{"type":"FeatureCollection"`},
	} {
		t.Run(m.name, func(t *testing.T) {
			mutant := strings.Replace(string(data), m.old, m.new, 1)
			if mutant == string(data) {
				t.Fatal("the mutant is the original")
			}
			if validate.GeoJSON([]byte(mutant), within).OK() {
				t.Error("not caught")
			}
		})
	}
}

// TestGeoJSONWindingMutants change one polygon.
func TestGeoJSONWindingMutants(t *testing.T) {
	for _, c := range []struct {
		name, rings string
		ok          bool
	}{
		{"right", `[[[0,0],[4,0],[4,4],[0,0]],[[2,1],[3,2],[3,1],[2,1]]]`, true},
		{"exterior clockwise", `[[[0,0],[4,4],[4,0],[0,0]]]`, false},
		{"hole counter-clockwise", `[[[0,0],[4,0],[4,4],[0,0]],[[2,1],[3,1],[3,2],[2,1]]]`, false},
		{"not closed", `[[[0,0],[4,0],[4,4],[0,4]]]`, false},
		{"over the antimeridian", `[[[179,0],[-179,0],[-179,4],[179,0]]]`, false},
	} {
		doc := `{"type":"FeatureCollection","bbox":[-180,0,180,4],"features":[{"type":"Feature","id":1,"properties":{},"geometry":{"type":"Polygon","coordinates":` + c.rings + `}}]}`
		if got := validate.GeoJSON([]byte(doc), validate.Bounds{}).OK(); got != c.ok {
			t.Errorf("%s: valid is %v", c.name, got)
		}
	}
}

// TestGeoJSONCarriesCautions: the file alone says what its reader must know.
func TestGeoJSONCarriesCautions(t *testing.T) {
	run := fixture()
	data, err := written(func(b *bytes.Buffer) error { return writeZone(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	var c struct {
		Name     string
		Cautions []string
		Assumed  []string
	}
	if err := json.Unmarshal(data, &c); err != nil {
		t.Fatal(err)
	}
	if c.Name != "aquatic_zone" || !cmp.Equal(c.Cautions, result.Cautions(run)) || !cmp.Equal(c.Assumed, run.Assumed) {
		t.Errorf("%+v", c)
	}
}

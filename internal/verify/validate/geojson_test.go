package validate

import (
	"fmt"
	"strings"
	"testing"
)

// collection is a document of features, each given by its id, geometry and properties, with a bbox if
// it is not blank.
func collection(bbox string, features ...[3]string) string {
	var all []string
	for _, f := range features {
		all = append(all, fmt.Sprintf(`{"type":"Feature","id":%s,"geometry":%s,"properties":%s}`, f[0], f[1], f[2]))
	}
	if bbox != "" {
		bbox = `"bbox":` + bbox + ","
	}
	return `{"type":"FeatureCollection",` + bbox + `"features":[` + strings.Join(all, ",") + `]}`
}

const (
	aPoint  = `{"type":"Point","coordinates":[10,20]}`
	aLine   = `{"type":"LineString","coordinates":[[10,20],[11,21]]}`
	aSquare = `{"type":"Polygon","coordinates":[[[10,20],[11,20],[11,21],[10,21],[10,20]]]}`
	holed   = `{"type":"Polygon","coordinates":[[[10,20],[14,20],[14,24],[10,24],[10,20]],[[11,21],[11,22],[12,22],[12,21],[11,21]]]}`
)

// TestGoodGeoJSON: documents as in RFC 7946, section 1.5, appendix A and section 5, have no problem.
func TestGoodGeoJSON(t *testing.T) {
	for name, doc := range map[string]string{
		"no feature": collection(""), "no feature, a bbox": collection("[0,0,0,0]"),
		"one of each": collection("[10,20,14,24]", [3]string{`"a"`, aPoint, `{"n":1}`}, [3]string{`"b"`, aLine, `{"n":1}`}, [3]string{"3", aSquare, `{}`}, [3]string{"4", holed, `{"n":null}`}),
		"several in one": collection("[-1,2,5,7]", [3]string{"1", `{"type":"MultiPoint","coordinates":[[-1,2],[5,7]]}`, `{}`}, [3]string{"2", `{"type":"MultiLineString","coordinates":[[[0,2],[1,3]],[[2,4],[3,5]]]}`, `{}`},
			[3]string{"3", `{"type":"MultiPolygon","coordinates":[[[[0,3],[1,3],[1,4],[0,3]]],[[[2,3],[3,3],[3,4],[2,3]]]]}`, `{}`}),
		"nowhere":             collection("", [3]string{`"a"`, "null", `{"n":1}`}),
		"seven decimals":      collection("[10.1234567,20,10.1234567,20]", [3]string{`"a"`, `{"type":"Point","coordinates":[10.1234567,20]}`, "{}"}),
		"fewer properties":    collection("[10,20,10,20]", [3]string{"1", aPoint, `{"a":1,"b":{"c":[1,{"d":2}]},"e":"x"}`}, [3]string{"2", aPoint, `{"a":2,"e":"y"}`}),
		"across the meridian": collection("[179,-18,-179,-17]", [3]string{"1", `{"type":"MultiPoint","coordinates":[[179,-18],[-179,-17]]}`, "{}"}),
	} {
		if r := GeoJSON([]byte(doc), Bounds{}); !r.OK() {
			t.Errorf("%s: %q", name, r.Problems)
		}
	}
	if r := GeoJSON([]byte(collection("[10,20,11,21]", [3]string{"1", aPoint, "{}"}, [3]string{"2", aLine, "{}"})), Bounds{}); r.Features != 2 {
		t.Errorf("%d features", r.Features)
	}
}

// TestBadGeoJSON: each breaks one rule of RFC 7946 (sections 3.1, 3.2, 4, 5) or of the project, and
// just that is told.
func TestBadGeoJSON(t *testing.T) {
	one := func(shape string) string { return collection("", [3]string{"1", shape, "{}"}) }
	const box = "[10,20,10,20]"
	for _, c := range []struct{ name, doc, want string }{
		{"not UTF-8", collection(box, [3]string{"1", aPoint, "{\"n\":\"\xff\"}"}), "not UTF-8 without a byte-order mark"},
		{"two documents", collection("") + "{}", "not JSON"},
		{"no JSON", "features", "not JSON"},
		{"one feature alone", `{"type":"Feature","features":[]}`, "not a FeatureCollection"},
		{"no features", `{"type":"FeatureCollection"}`, "not a FeatureCollection"},
		{"a reference system", `{"type":"FeatureCollection","crs":{},"features":[]}`, "a crs member"},
		{"no bbox", one(aPoint), "no bbox"},
		{"a bbox of six", collection("[10,20,0,10,20,0]", [3]string{"1", aPoint, "{}"}), "is not west, south, east, north"},
		{"north before south", collection("[10,20,10,19]", [3]string{"1", aPoint, "{}"}), "is not west, south, east, north"},
		{"a bbox too narrow", collection("[10,20,10.5,21]", [3]string{"1", aLine, "{}"}), "leaves out [11 21]"},
		{"a bbox too low", collection("[10,20,11,20.5]", [3]string{"1", aLine, "{}"}), "leaves out [11 21]"},
		{"a bbox from too far south", collection("[10,19,11,21]", [3]string{"1", aLine, "{}"}), "wider than its positions, from 20 to 21 north"},
		{"a bbox to too far north", collection("[10,20,11,22]", [3]string{"1", aLine, "{}"}), "wider than its positions, from 20 to 21 north"},
		{"no feature's type", strings.Replace(collection(box, [3]string{"1", aPoint, "{}"}), `"Feature"`, `"feature"`, 1), `type is "feature"`},
		{"an id of another kind", collection(box, [3]string{"true", aPoint, "{}"}), "id is neither text nor number"},
		{"an id that is a list", collection(box, [3]string{"[1]", aPoint, "{}"}), "id is neither text nor number"},
		{"an id twice", collection(box, [3]string{"1", aPoint, "{}"}, [3]string{"1", aPoint, "{}"}), "id is not unique"},
		{"no geometry", `{"type":"FeatureCollection","features":[{"type":"Feature","id":1,"properties":{}}]}`, "no geometry member"},
		{"no properties", collection(box, [3]string{"1", aPoint, "null"}), "properties"},
		{"another property", collection(box, [3]string{"1", aPoint, `{"a":1}`}, [3]string{"2", aPoint, `{"b":1}`}), "a property that the first feature does not have, or in another order: b"},
		{"another order", collection(box, [3]string{"1", aPoint, `{"a":1,"b":1}`}, [3]string{"2", aPoint, `{"b":1,"a":1}`}), "in another order: a"},
		{"a property twice", collection(box, [3]string{"1", aPoint, `{"a":1,"a":2}`}), "a property comes twice"},
		{"eight decimals", collection("[10,20,11,20]", [3]string{"1", `{"type":"Point","coordinates":[10.12345678,20]}`, "{}"}), "more than seven decimals"},
		{"a height", collection(box, [3]string{"1", `{"type":"Point","coordinates":[10,20,5]}`, "{}"}), "position of 3 numbers"},
		{"one number", collection("", [3]string{"1", `{"type":"Point","coordinates":[10]}`, "{}"}), "position of 1 numbers"},
		{"texts", collection("", [3]string{"1", `{"type":"Point","coordinates":["10","20"]}`, "{}"}), "coordinates"},
		{"no points", collection("", [3]string{"1", `{"type":"MultiPoint","coordinates":[]}`, "{}"}), "MultiPoint without points"},
		{"no lines", collection("", [3]string{"1", `{"type":"MultiLineString","coordinates":[]}`, "{}"}), "coordinates are not a list of lines"},
		{"no polygons", collection("", [3]string{"1", `{"type":"MultiPolygon","coordinates":[]}`, "{}"}), "coordinates are not a list of polygons"},
		{"several kinds", collection("", [3]string{"1", `{"type":"GeometryCollection","geometries":[]}`, "{}"}), `geometry of type "GeometryCollection"`},
		{"no geometry at all", collection("", [3]string{"1", `7`, "{}"}), "geometry"},
		{"an open ring", collection("[10,20,11,21]", [3]string{"1", `{"type":"Polygon","coordinates":[[[10,20],[11,20],[11,21],[10,21]]]}`, "{}"}), "feature 1: ring is not closed"},
		{"an exterior the wrong way", collection("[10,20,11,21]", [3]string{"1", `{"type":"Polygon","coordinates":[[[10,20],[10,21],[11,21],[11,20],[10,20]]]}`, "{}"}), "exterior ring is clockwise"},
		{"a hole the wrong way", collection("[10,20,14,24]", [3]string{"1", strings.Replace(holed, "[11,22],[12,22],[12,21]", "[12,21],[12,22],[11,22]", 1), "{}"}), "hole is counter-clockwise"},
		{"a line of one place", collection(box, [3]string{"1", `{"type":"LineString","coordinates":[[10,20]]}`, "{}"}), "line of 1 positions"},
		{"a ring of three places", collection("[10,20,11,21]", [3]string{"1", `{"type":"Polygon","coordinates":[[[10,20],[11,21],[10,20]]]}`, "{}"}), "ring of 3 positions"},
		{"a ring without an area", collection("[10,20,12,22]", [3]string{"1", `{"type":"Polygon","coordinates":[[[10,20],[11,21],[12,22],[10,20]]]}`, "{}"}), "ring has no area"},
		{"a place twice", collection("[10,20,11,21]", [3]string{"1", `{"type":"LineString","coordinates":[[10,20],[11,21],[11,21]]}`, "{}"}), "vertex 2 repeats the one before"},
		{"over the antimeridian", collection("[-179,20,179,21]", [3]string{"1", `{"type":"LineString","coordinates":[[179,20],[-179,21]]}`, "{}"}), "edge 1 jumps over the antimeridian"},
		{"beyond the pole", collection("[10,91,10,91]", [3]string{"1", `{"type":"Point","coordinates":[10,91]}`, "{}"}), "latitude 91"},
	} {
		r := GeoJSON([]byte(c.doc), Bounds{})
		if len(r.Problems) != 1 || !strings.Contains(r.Problems[0], c.want) {
			t.Errorf("%s: %q, want only %q", c.name, r.Problems, c.want)
		}
	}
	if r := GeoJSON([]byte("\uFEFF"+collection("")), Bounds{}); len(r.Problems) == 0 || r.Problems[0] != "not UTF-8 without a byte-order mark" {
		t.Errorf("a byte-order mark: %q", r.Problems)
	}
	within := Bounds{West: 0, South: 0, East: 10.5, North: 20.5}
	if r := GeoJSON([]byte(collection("[10,20,11,21]", [3]string{"1", aLine, "{}"})), within); len(r.Problems) != 1 {
		t.Errorf("a line that leaves where it is expected: %q", r.Problems)
	}
}

// TestEdgesOfBounds: the edges belong to them; bounds whose west is greater than their east cross the
// antimeridian, and no bounds at all hold every place.
func TestEdgesOfBounds(t *testing.T) {
	box, across := Bounds{West: 10, South: 20, East: 12, North: 21}, Bounds{West: 179, South: -18, East: -179, North: -17}
	for _, c := range []struct {
		in   Bounds
		at   position
		want bool
	}{
		{box, position{10, 20}, true}, {box, position{12, 21}, true}, {box, position{11, 20.5}, true}, {box, position{9.9, 20.5}, false}, {box, position{12.1, 20.5}, false},
		{box, position{11, 19.9}, false}, {box, position{11, 21.1}, false},
		{across, position{179, -18}, true}, {across, position{-179, -17}, true}, {across, position{180, -17.5}, true}, {across, position{-180, -17.5}, true},
		{across, position{178.9, -17.5}, false}, {across, position{-178.9, -17.5}, false}, {across, position{0, -17.5}, false}, {across, position{179.5, -18.1}, false},
		{Bounds{}, position{200, 100}, true},
	} {
		if got := c.in.holds(c.at); got != c.want {
			t.Errorf("%v in %v: %v", c.at, c.in, got)
		}
	}
}

package geojson_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// far puts a text where it reaches the reader byte by byte, so that each of its places is once the end
// of what is in memory.
var far = strings.Repeat(" \n", 2100)

// read describes the features of a text. It must read the same when it comes byte by byte.
func read(t *testing.T, text string) ([]string, error) {
	t.Helper()
	l, err := layers.Read(layers.Form{File: "a.geojson", Bytes: []byte(text)}, layers.Asked{})
	slow, slowErr := layers.Read(layers.Form{File: "a.geojson", Bytes: []byte(far + text)}, layers.Asked{Stream: true})
	if diff := cmp.Diff(l.Describe(), slow.Describe()); diff != "" || (err == nil) != (slowErr == nil) {
		t.Errorf("%s: %v, byte by byte %v (-whole +pieces):\n%s", text, err, slowErr, diff)
	}
	return l.Describe(), err
}

// shapes compares the only feature of each text with what is wanted.
func shapes(t *testing.T, wants map[string]string) {
	t.Helper()
	for text, want := range wants {
		got, err := read(t, text)
		if diff := cmp.Diff([]string{want}, got); err != nil || diff != "" {
			t.Errorf("%s: %v (-want +got):\n%s", text, err, diff)
		}
	}
}

// TestGeometryTypes: the seven types of RFC 7946, 3.1.2 to 3.1.8, as a document and as a feature's
// geometry, with members in any order and heights left out; by hand.
func TestGeometryTypes(t *testing.T) {
	const ring, hole = "[[0,0],[4,0],[4,4],[0,0]]", "[[2,1],[3,1],[3,2],[2,1]]"
	for geometry, want := range map[string]string{
		`"type":"Point","coordinates":[1,2]`:                                               "Point 1 2",
		`"coordinates":[-1.5,2e1,30,4],"type":"Point"`:                                     "Point -1.5 20",
		`"type":"Point","bbox":[1,2,1,2],"coordinates": [ 1 ,` + "\r\n\t" + ` 2 ] `:        "Point 1 2",
		`"type":"MultiPoint","coordinates":[[1,2],[3,4]]`:                                  "MultiPoint 1 2,3 4",
		`"type":"LineString","coordinates":[[1,2],[3,4,5],[6,7]]`:                          "LineString (1 2,3 4,6 7)",
		`"type":"MultiLineString","coordinates":[[[1,2],[3,4]],[[5,6],[7,8]]]`:             "MultiLineString (1 2,3 4)(5 6,7 8)",
		`"type":"Polygon","coordinates":[` + ring + "," + hole + "]":                       "Polygon ((0 0,4 0,4 4,0 0)(2 1,3 1,3 2,2 1))",
		`"type":"MultiPolygon","coordinates":[[` + ring + "," + hole + "],[" + ring + "]]": "MultiPolygon ((0 0,4 0,4 4,0 0)(2 1,3 1,3 2,2 1))((0 0,4 0,4 4,0 0))",
		`"type":"GeometryCollection","geometries":[{"type":"Point","coordinates":[1,2]}]`:  "GeometryCollection",
		`"type":"Point","coordinates":[]`:                                                  "Point !a coordinate is no number",
		`"type":"Point","coordinates":null`:                                                "Point",
		`"type":"LineString","coordinates":[]`:                                             "LineString !a coordinate is no number",
	} {
		alone, err := read(t, "{"+geometry+"}")
		if err != nil || len(alone) != 1 {
			t.Errorf("%s: %q, %v", geometry, alone, err)
			continue
		}
		inside, err := read(t, `{"type":"Feature","geometry":{`+geometry+`},"properties":null}`)
		if diff := cmp.Diff(alone, inside); err != nil || diff != "" {
			t.Errorf("%s as a feature: %v (-alone +inside):\n%s", geometry, err, diff)
		}
		if alone[0] != want && !strings.HasSuffix(geometry, "[]") {
			t.Errorf("%s: %s, want %s", geometry, alone[0], want)
		}
	}
}

// TestWrongCoordinates: each fault is of the feature alone, and is said; NaN and Infinity, which are no
// JSON but are written, are places without a number.
func TestWrongCoordinates(t *testing.T) {
	geometry := func(kind, coordinates string) string {
		return fmt.Sprintf(`{"type":%q,"coordinates":%s}`, kind, coordinates)
	}
	shapes(t, map[string]string{
		geometry("Point", `[1]`):                                              "Point 1 0 !a position has fewer than two numbers",
		geometry("Point", `[[1,2]]`):                                          "Point 1 2 !the coordinates of the Point are nested 2 deep and not 1",
		geometry("LineString", `[1,2]`):                                       "LineString 1 2 !the coordinates of the LineString are nested 1 deep and not 2",
		geometry("MultiPoint", `[[[1,2]]]`):                                   "MultiPoint 1 2 !the coordinates of the MultiPoint are nested 3 deep and not 2",
		geometry("Polygon", `[[1,2]]`):                                        "Polygon ((1 2)) !the coordinates of the Polygon are nested 2 deep and not 3",
		geometry("LineString", `[[1,2],[[3,4]]]`):                             "LineString (1 2,3 4) !the positions are not nested equally deep",
		geometry("LineString", `[[1,2],3]`):                                   "LineString (1 2) !the coordinates mix numbers and arrays",
		geometry("Point", `["1",2]`):                                          "Point !a coordinate is no number",
		geometry("LineString", `[[1,"2"],[3,4]]`):                             "LineString (3 4) !a coordinate is no number",
		geometry("LineString", `[[1,{"a":[2]},null],[3,4]]`):                  "LineString (3 4) !a coordinate is no number",
		geometry("Point", `{"a":1}`):                                          "Point !the coordinates are no array",
		geometry("Point", `"1,2"`):                                            "Point !the coordinates are no array",
		geometry("Point", `[[[[[[[1,2]]]]]]]`):                                "Point !the coordinates are nested too deep",
		geometry("Point", `[NaN,Infinity]`):                                   "Point NaN NaN",
		`{"type":"Feature","geometry":{"type":"Circle","coordinates":[1,2]}}`: `1 2 !the geometry is of type "Circle"`,
		`{"type":"Feature","geometry":{}}`:                                    `!the geometry is of type ""`,
		`{"type":"Feature","geometry":7}`:                                     "!the geometry is no JSON object",
		`{"type":"Feature","geometry":null}`:                                  "",
	})
}

// TestProperties: values of every type of JSON (RFC 8259, 3), each as its own text; null is blank; the
// id is beside them (RFC 7946, 3.2).
func TestProperties(t *testing.T) {
	property := func(value string) string {
		return `{"type":"Feature","id":"f1","properties":{"a":` + value + `,"b":"end"},"geometry":null}`
	}
	for value, want := range map[string]string{
		`"text"`: "a=text", `" padded "`: "a=padded", `1.50`: "a=1.50", `-1e3`: "a=-1e3", `true`: "a=true", `false`: "a=false", `null`: "", `""`: "",
		`[1, [2]]`: "a=[1, [2]]", `{"k":"]\"}"}`: `a={"k":"]\"}"}`, `[]`: "a=[]", `"null"`: "a=null",
		`"q\"b\\s\/"`: `a=q"b\s/`, `"x\ny\tz\rq\bw\fe"`: "a=x\ny\tz\rq\bw\fe", `"\u00e9\u20AC"`: "a=é€", `"\ud83d\ude00!"`: "a=😀!",
		`"\ud83d"`: "a=\ufffd", `"\ud83dx"`: "a=\ufffdx", `"\ud83d\u0041"`: "a=\ufffdA", `"\ud83d\n"`: "a=\ufffd", `"\u12"`: "a=\ufffd12", `"\uzzzz"`: "a=\ufffdzzzz", `"\q"`: "a=q",
		`"\ud83d\ud83d\ude00"`: "a=\ufffd😀",
	} {
		if strings.HasSuffix(want, "\n") {
			t.Fatal(want)
		}
		got, err := read(t, property(value))
		if diff := cmp.Diff([]string{strings.Join(strings.Fields("#f1 "+strings.ReplaceAll(want, "\n", "~")+" b=end"), " ")}, squeezed(got)); err != nil || diff != "" {
			t.Errorf("%s: %v (-want +got):\n%s", value, err, diff)
		}
	}
	shapes(t, map[string]string{
		`{"type":"Feature","id":12.50,"properties":{}}`:                                   "#12.50",
		`{"type":"Feature","id":null,"properties":[1]}`:                                   "",
		`{"properties":{"a":1,"b":2,"a":3},"type":"Feature"}`:                             "a=3 b=2",
		`{"type":"Feature","properties":{"a":1},"properties":{"b":2}}`:                    "b=2",
		`{"type":"Feature","extra":{"a":[1,"}"]},"properties":{"a":1,},"geometry":null,}`: "a=1",
		`{"geometry":{"type":"Point","coordinates":[1,2]}}`:                               "Point 1 2",
		`{"properties":{"a":1}}`:                                                          "a=1",
	})
}

// squeezed replaces line ends by ~ and every other run of white space by a blank.
func squeezed(lines []string) []string {
	for i := range lines {
		lines[i] = strings.Join(strings.Fields(strings.ReplaceAll(lines[i], "\n", "~")), " ")
	}
	return lines
}

// TestDocuments: a collection, a feature, an array, and any number of them one after the other, by
// lines (newline-delimited), by record separators (RFC 8142) or by commas.
func TestDocuments(t *testing.T) {
	const a, b = `{"type":"Feature","id":"a"}`, `{"type":"Feature","id":"b"}`
	both := []string{"#a", "#b"}
	for text, want := range map[string][]string{
		`{"type":"FeatureCollection","features":[` + a + "," + b + "]}":           both,
		`{"features":[` + a + `],"type":"FeatureCollection","name":"x","n":[{}]}`: {"#a"},
		`{"type":"FeatureCollection","features":[` + a + "," + b + ",]}":          both,
		`{"type":"FeatureCollection","features":[]}`:                              nil,
		"[" + a + "," + b + "]": both, a + "\n" + b + "\n": both, a + b: both, a + "," + b: both,
		"\x1e" + a + "\n\x1e" + b + "\n": both, "[" + a + "]\n[" + b + "]": both,
		a + "\n\n" + `{"type":"FeatureCollection","features":[` + b + "]}": both,
		"[" + a + `,null,"x",[2],7,` + b + "]":                             {"#a", "!the feature is no JSON object", "!the feature is no JSON object", "!the feature is no JSON object", "!the feature is no JSON object", "#b"},
		"[" + a + `,{"a":1},` + b + "]":                                    {"#a", "!the object is no GeoJSON feature", "#b"},
		a + "\n" + `{"a":1}` + "\n" + b:                                    {"#a", "!the object is no GeoJSON feature", "#b"},
		`[{"features":[` + a + `],"type":"Feature","id":"b"}]`:             {"#b"},
		`{"features":7,"type":"Feature","id":"b"}`:                         {"#b"},
		// a line that is no JSON is lost alone
		a + "\nrest of it\n" + b:                        {"#a", `!the line is not JSON: there is 'r' where '{' should be`, "#b"},
		a + "\n" + `{"type":"Fea` + "\n" + b + "\n" + a: nil,
		a + "\n" + `{"type" "Feature"}` + "\n" + b:      {"#a", `!the line is not JSON: there is '"' where ':' should be`, "#b"},
	} {
		got, err := read(t, text)
		if want == nil && strings.Contains(text, "Fea\n") { // the text that is not closed swallows the next line's start
			if len(got) < 3 || got[0] != "#a" || got[len(got)-1] != "#a" || err != nil {
				t.Errorf("%s: %q, %v", text, got, err)
			}
			continue
		}
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("%s: %v (-want +got):\n%s", text, err, diff)
		}
	}
}

// TestBrokenDocuments: what ends the reading, where, after which feature, and the rows before it: no
// more and no less.
func TestBrokenDocuments(t *testing.T) {
	const a = `{"type":"Feature","id":"a"}`
	const repair = "repair the file at that place, or write it again"
	for text, want := range map[string]struct {
		place, found, remedy string
		rows                 int
	}{
		"[" + a + " " + a + "]":                {"byte 29, after feature 1", "there is '{' where ',' or ']' should be", repair, 1},
		"[" + a:                                {"byte 28, after feature 1", "the text ends where ',' or ']' should be", repair, 1},
		`{"type":"Feature" "id":1}`:            {"byte 18", `there is '"' where ',' or '}' should be`, repair, 0},
		`{"type"`:                              {"byte 7", "the text ends where ':' should be", repair, 0},
		`{type:1}`:                             {"byte 1", `there is 't' where '"' should be`, repair, 0},
		`{"type":"Fea`:                         {"byte 12", "the text ends inside a string", repair, 0},
		`{"type":"Fea\`:                        {"byte 12", "the text ends inside a string", repair, 0},
		`{"type":}`:                            {"byte 8", "a value is missing", repair, 0},
		`{"x":[1,{"y":2`:                       {"byte 14", "the text ends inside a value", repair, 0},
		`{"type":"Point","coordinates":[1,2`:   {"byte 34", "the text ends where ']' should be", repair, 0},
		`{"type":"Point","coordinates":["a",2`: {"byte 36", "the text ends inside coordinates", repair, 0},
		`{"type":"Topology","objects":{}}`:     {"byte 32", `a JSON object of type "Topology" is no GeoJSON`, "export the layer as GeoJSON", 0},
		`{"type":"Point","coordinates":[x}2]}`: {"byte 32", "there is '}' inside coordinates", repair, 0},
	} {
		l, err := layers.Read(layers.Form{File: "a.geojson", Bytes: []byte(text)}, layers.Asked{})
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || unusable.Place != want.place || want.found != "" && unusable.Found != want.found || unusable.Remedy != want.remedy || len(l.Rows) != want.rows {
			t.Errorf("%s: %d rows, %v", text, len(l.Rows), err)
		}
		if got, _ := read(t, text); len(got) != want.rows {
			t.Errorf("%s: %q", text, got)
		}
	}
}

// TestSystems: a crs member of the 2008 specification, by name or by number; one that comes after
// features is refused unless it is geographic, and one that cannot be read is told.
func TestSystems(t *testing.T) {
	document := func(crs string) string {
		return `{"type":"FeatureCollection","crs":` + crs + `,"features":[{"type":"Point","coordinates":[500000,0]}]}`
	}
	for crs, want := range map[string]string{
		`{"type":"name","properties":{"name":"EPSG:32633"}}`:                    "Point 15 0",
		`{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::32633"}}`:   "Point 15 0",
		`{"type":"EPSG","properties":{"code":32633}}`:                           "Point 15 0",
		`{"type":"name","properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}}`: "Point 500000 0",
		`null`: "Point 500000 0",
	} {
		l, err := layers.Read(layers.Form{File: "a.geojson", Bytes: []byte(document(crs))}, layers.Asked{})
		if diff := cmp.Diff([]string{want}, l.Describe()); err != nil || diff != "" {
			t.Errorf("%s: %v (-want +got):\n%s", crs, err, diff)
		}
	}
	for _, crs := range []string{`{"type":"name","properties":{"name":"no system"}}`, `{"type":"link","properties":{"href":"x"}}`, `{}`, `"EPSG:4326"`, `[1]`} {
		_, err := layers.Read(layers.Form{File: "a.geojson", Bytes: []byte(document(crs))}, layers.Asked{})
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || unusable.Place != "crs" || !strings.Contains(unusable.Remedy, "--points-crs") {
			t.Errorf("%s: %v", crs, err)
		}
	}
	late := `{"type":"FeatureCollection","features":[%s],"crs":{"type":"name","properties":{"name":"EPSG:%d"}}}`
	for text, found := range map[string]string{
		fmt.Sprintf(late, `{"type":"Feature"}`, 32633): "the reference system comes after features",
		fmt.Sprintf(late, `{"type":"Feature"}`, 4326):  "",
		fmt.Sprintf(late, ``, 32633):                   "",
	} {
		_, err := layers.Read(layers.Form{File: "a.geojson", Bytes: []byte(text)}, layers.Asked{})
		var unusable *format.UnusableError
		if (err != nil) != (found != "") || err != nil && (!errors.As(err, &unusable) || unusable.Found != found || unusable.Remedy != "write the file again, with crs before features") {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// TestLimitsOfAGeoJSON: each limit at what it allows and at one less.
func TestLimitsOfAGeoJSON(t *testing.T) {
	long := strings.Repeat("x", 40_000)
	for _, c := range []struct {
		text, found string
		set         func(*format.Limits, int)
		most        int
	}{
		{`{"type":"Feature","properties":{"a":1,"b":2,"c":3}}`, "there are more than 2 different properties", func(l *format.Limits, n int) { l.Columns = n }, 3},
		{`{"type":"Feature","properties":{"a":"12345","b":"67890"}}`, "the properties of a feature are longer than limits.record_mb allows", func(l *format.Limits, n int) { l.RecordBytes = n }, 10},
		{`{"type":"LineString","coordinates":[[1,2],[3,4],[5,6]]}`, "a feature has more vertices than limits.vertices allows", func(l *format.Limits, n int) { l.Vertices = n }, 3},
		{`{"type":"Feature","x":[{"y":[1]}]}`, "arrays or objects are nested deeper than limits.nesting allows", func(l *format.Limits, n int) { l.Nesting = n }, 3},
	} {
		for less, refused := range []bool{false, true} {
			limits := format.DefaultLimits()
			c.set(&limits, c.most-less)
			_, err := layers.Read(layers.Form{File: "a.geojson", Bytes: []byte(c.text)}, layers.Asked{Limits: limits})
			if (err != nil) != refused || refused && !strings.Contains(err.Error(), c.found) {
				t.Errorf("%s with a limit of %d: %v", c.text, c.most-less, err)
			}
		}
	}
	limits := format.DefaultLimits()
	limits.RecordBytes = 10_000
	_, err := layers.Read(layers.Form{File: "a.geojson", Bytes: []byte(`{"type":"` + long + `"}`)}, layers.Asked{Limits: limits, Stream: true})
	if err == nil || !strings.Contains(err.Error(), "a text is longer than limits.record_mb allows") {
		t.Errorf("a long text: %v", err)
	}
}

package kml_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// placemarks reads a document of the given elements and describes its features.
func placemarks(t *testing.T, inside string, asked layers.Asked) []string {
	t.Helper()
	l, err := layers.Read(layers.Form{File: "a.kml", Bytes: []byte("<kml><Document>" + inside + "</Document></kml>")}, asked)
	if err != nil {
		t.Errorf("%s: %v", inside, err)
	}
	return l.Describe()
}

// TestGeometries: every geometry of OGC 12-007r2, clauses 10 and 11, alone and in
// a MultiGeometry, with and without heights; by hand.
func TestGeometries(t *testing.T) {
	const point, line = "<Point><coordinates>1,2,30</coordinates></Point>", "<LineString><coordinates>1,2 3,4,5\n 6,7</coordinates></LineString>"
	const ring = "<LinearRing><coordinates>0,0 4,0 4,4 0,0</coordinates></LinearRing>"
	const hole = "<innerBoundaryIs><LinearRing><coordinates>2,1 3,1 3,2 2,1</coordinates></LinearRing></innerBoundaryIs>"
	const area = "<Polygon><tessellate>1</tessellate><outerBoundaryIs>" + ring + "</outerBoundaryIs></Polygon>"
	const track = "<Track><when>2026-07-02</when><coord>1 2 3</coord><coord>4 5 6</coord></Track>"
	many := func(inside string) string { return "<MultiGeometry>" + inside + "</MultiGeometry>" }
	for shape, want := range map[string]string{
		point: "Point 1 2",
		"<Point><altitudeMode>absolute</altitudeMode><coordinates> 1,2 </coordinates></Point>": "Point 1 2",
		line: "LineString (1 2,3 4,6 7)",
		ring: "LineString (0 0,4 0,4 4,0 0)",
		area: "Polygon ((0 0,4 0,4 4,0 0))",
		"<Polygon><outerBoundaryIs>" + ring + "</outerBoundaryIs>" + hole + "</Polygon>":                        "Polygon ((0 0,4 0,4 4,0 0)(2 1,3 1,3 2,2 1))",
		"<Polygon><other>" + ring + "</other><outerBoundaryIs><other/>" + ring + "</outerBoundaryIs></Polygon>": "Polygon ((0 0,4 0,4 4,0 0))",
		track: "LineString (1 2,4 5)",
		"<gx:Track xmlns:gx=\"http://www.google.com/kml/ext/2.2\"><gx:coord>1 2 3</gx:coord></gx:Track>": "LineString (1 2)",
		"<MultiTrack>" + track + track + "</MultiTrack>":                                                 "MultiLineString (1 2,4 5)(1 2,4 5)",
		many(point): "Point 1 2",
		many(point + "<Point><coordinates>3,4</coordinates></Point>"): "MultiPoint 1 2,3 4",
		many(line + line + line):        "MultiLineString (1 2,3 4,6 7)(1 2,3 4,6 7)(1 2,3 4,6 7)",
		many(area + many(area)):         "MultiPolygon ((0 0,4 0,4 4,0 0))((0 0,4 0,4 4,0 0))",
		many(point + line):              "collection of different geometries",
		many(area + ring):               "collection of different geometries",
		many(track + "<Model/>"):        "Model",
		many("<Model/>"):                "Model",
		many(""):                        "empty MultiGeometry",
		many("<Style/>"):                "empty MultiGeometry",
		"<Model><Location/></Model>":    "Model",
		"<Region/>":                     "",
		"<Point><coordinates/></Point>": "Point",
		"<Point><coordinates> </coordinates></Point>" + area: "Polygon ((0 0,4 0,4 4,0 0))",
		"<Point/>" + point: "Point 1 2",
	} {
		got := placemarks(t, "<Placemark>"+shape+"</Placemark>", layers.Asked{})
		if len(got) == 1 && strings.HasPrefix(want, "collection") {
			got[0], _, _ = strings.Cut(got[0], " (")
			got[0], _, _ = strings.Cut(got[0], " 1 2")
		}
		if len(got) == 1 && want == "Model" {
			got[0], _, _ = strings.Cut(got[0], " (")
		}
		if diff := cmp.Diff([]string{want}, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", shape, diff)
		}
	}
}

// TestCoordinates: "lon,lat[,height]" tuples separated by white space
// (OGC 12-007r2, 10.1.2.3), and what is none.
func TestCoordinates(t *testing.T) {
	const wrong = " !the coordinates are no list of longitude,latitude"
	for text, want := range map[string]string{
		"-117.5,34.25 1,2":                "(-117.5 34.25,1 2)",
		"\r\n\t1,2,3\n\t4,5,6\r\n":        "(1 2,4 5)",
		"1,2,":                            "(1 2)",
		"1e1,-2E-1":                       "(10 -0.2)",
		"1, 2 3 ,4":                       "(1 2,3 4)",
		"1":                               "(1 0)" + wrong,
		"1 2":                             "(1 0,2 0)" + wrong,
		"1;2":                             "(1 0)" + wrong,
		"1,x":                             "(1 0)" + wrong,
		"x,1":                             "(0 0)" + wrong,
		"1,2,3,4":                         "(1 2)" + wrong,
		"1,2,3x":                          "(1 2)" + wrong,
		"1,2x":                            "(1 2)" + wrong,
		"1,2," + strings.Repeat("0", 123): "(1 2)",
		"1,2," + strings.Repeat("0", 124): "(0 0)" + wrong,
		"1,2 NaN,3":                       "(1 2,NaN 3)",
		"":                                "()",
	} {
		got := placemarks(t, "<Placemark><LineString><coordinates>"+text+"</coordinates></LineString></Placemark>", layers.Asked{})
		if diff := cmp.Diff([]string{"LineString " + want}, got); diff != "" {
			t.Errorf("%q (-want +got):\n%s", text, diff)
		}
	}
	// a track's positions are separated by single blanks (13.3), and the first fault of a feature is told
	for text, want := range map[string]string{" 1 2 3 ": "(1 2)", "1 2": "(1 2)", "1": "(1 0)" + wrong, "1,2,3": "(1 2)", "": "(0 0)" + wrong} {
		got := placemarks(t, "<Placemark><Track><coord>"+text+"</coord></Track></Placemark>", layers.Asked{})
		if diff := cmp.Diff([]string{"LineString " + want}, got); diff != "" {
			t.Errorf("track of %q (-want +got):\n%s", text, diff)
		}
	}
}

// TestTexts: name, description, times, and the data of ExtendedData (OGC 12-007r2, 9.1.3, 9.2 and 9.3).
func TestTexts(t *testing.T) {
	for inside, want := range map[string]string{
		"<name> A </name><description>b<![CDATA[<b>c</b>]]></description>":                                                         "name=A description=b<b>c</b>",
		"<TimeStamp><when>2026-07-13</when></TimeStamp>":                                                                           "kml:when=2026-07-13",
		"<TimeSpan><begin>2026-07-01</begin><end>2026-07-09</end></TimeSpan>":                                                      "kml:begin=2026-07-01 kml:end=2026-07-09",
		`<ExtendedData><Data name="crew"><displayName>Crew</displayName><value>north</value></Data></ExtendedData>`:                "crew=north",
		`<ExtendedData><SchemaData schemaUrl="#s"><SimpleData name="h">3</SimpleData><other>4</other></SchemaData></ExtendedData>`: "h=3",
		`<ExtendedData><x:camp xmlns:x="http://example.org/x">14</x:camp></ExtendedData>`:                                          "camp=14",
		"<name/><name>second</name><name>third</name>":                                                                             "name=second",
		"<visibility>1</visibility><styleUrl>#a</styleUrl><address>x</address>":                                                    "",
	} {
		if diff := cmp.Diff([]string{strings.TrimSpace("#p1 " + want)}, placemarks(t, `<Placemark id="p1">`+inside+"</Placemark>", layers.Asked{})); diff != "" {
			t.Errorf("%s (-want +got):\n%s", inside, diff)
		}
	}
}

// TestTimesOfTracks: a track that is read for its dates has the first and the last of its times, in
// whatever order; otherwise none.
func TestTimesOfTracks(t *testing.T) {
	const document = "<Placemark><name>a</name><Track><when> 2026-07-02T10:00:00Z </when><when>2026-07-01T09:00:00Z</when><when/><when>2026-07-01T12:00:00Z</when>" +
		"<coord>1 2 3</coord></Track></Placemark><Placemark><Track><when>2026-07-05</when><coord>4 5 6</coord></Track></Placemark><Placemark><Track><coord>7 8</coord></Track></Placemark>"
	want := []string{"LineString (1 2) name=a kml:when=2026-07-01T09:00:00Z/2026-07-02T10:00:00Z", "LineString (4 5) kml:when=2026-07-05/2026-07-05", "LineString (7 8)"}
	if diff := cmp.Diff(want, placemarks(t, document, layers.Asked{Timed: true})); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	want = []string{"LineString (1 2) name=a", "LineString (4 5)", "LineString (7 8)"}
	if diff := cmp.Diff(want, placemarks(t, document, layers.Asked{})); diff != "" {
		t.Errorf("without times (-want +got):\n%s", diff)
	}
}

// TestFolders: all placemarks in their order; or those of the folder that is named, in any case of
// letters, and of the folders inside it; nothing of the one beside it.
func TestFolders(t *testing.T) {
	named := func(name, inside string) string {
		return "<Folder><name> " + name + " </name>" + inside + "</Folder>"
	}
	mark := func(name string) string { return "<Placemark><name>" + name + "</name></Placemark>" }
	document := mark("top") + named("North", mark("n1")+named("deep", mark("n2"))+mark("n3")) + named("South", mark("s")) + "<Folder>" + mark("none") + "</Folder>"
	for layer, want := range map[string]string{
		"":      "top n1 n2 n3 s none",
		"north": "n1 n2 n3",
		"DEEP":  "n2",
		"South": "s",
		"east":  "",
	} {
		got := placemarks(t, document, layers.Asked{Layer: layer})
		if joined := strings.ReplaceAll(strings.Join(got, " "), "name=", ""); joined != want {
			t.Errorf("layer %q: %s, want %s", layer, joined, want)
		}
	}
	whole := "<kml><name>all</name><Document><name>all</name>" + mark("a") + "</Document><Placemark/></kml>"
	l, err := layers.Read(layers.Form{File: "a.kml", Bytes: []byte(whole)}, layers.Asked{Layer: "all"})
	if diff := cmp.Diff([]string{"name=a"}, l.Describe()); err != nil || diff != "" {
		t.Errorf("a document by its name: %v (-want +got):\n%s", err, diff)
	}
}

// TestRoots: a document may begin with any of four elements, of which a placemark is one
// (OGC 12-007r2, 7.1, allows kml; older programs wrote the others).
func TestRoots(t *testing.T) {
	const mark = `<Placemark id="a"><name>b</name></Placemark>`
	for _, document := range []string{
		"<kml>" + mark + "</kml>", "<Document>" + mark + "</Document>", "<Folder>" + mark + "</Folder>", mark,
		`<?xml version="1.0" encoding="UTF-8"?><!-- c --><kml xmlns="http://www.opengis.net/kml/2.2"><Folder><Document>` + mark + "</Document></Folder></kml>",
	} {
		l, err := layers.Read(layers.Form{File: "f", Bytes: []byte(document)}, layers.Asked{})
		if diff := cmp.Diff([]string{"#a name=b"}, l.Describe()); err != nil || l.Format != "KML" || diff != "" {
			t.Errorf("%s: %s, %v (-want +got):\n%s", document, l.Format, err, diff)
		}
	}
	for _, document := range []string{"<Point/>", "<KML/>", "<Placemarks/>"} {
		if _, err := layers.Read(layers.Form{File: "f", Bytes: []byte(document)}, layers.Asked{}); err == nil || !strings.Contains(err.Error(), "XML of the kind") {
			t.Errorf("%s: %v", document, err)
		}
	}
	if _, err := layers.Read(layers.Form{File: "f", Bytes: []byte(mark + mark)}, layers.Asked{}); err == nil || !strings.Contains(err.Error(), "another document") {
		t.Errorf("two placemarks without a document: %v", err)
	}
}

// TestSystemOfAKML: always WGS 84 (OGC 12-007r2, 8.2), whatever system the user names, which is told.
func TestSystemOfAKML(t *testing.T) {
	l, err := layers.Read(layers.Form{File: "a.kml", Bytes: []byte("<kml><Placemark><Point><coordinates>1,2</coordinates></Point></Placemark></kml>")}, layers.Asked{System: "EPSG:32633"})
	if diff := cmp.Diff([]string{"Point 1 2"}, l.Describe()); err != nil || diff != "" || len(l.Told) != 1 || l.Told[0].Message != "KML is always WGS 84 degrees; the reference system asked for was not used" {
		t.Errorf("%v, told %q (-want +got):\n%s", err, l.Tell(), diff)
	}
}

// TestSchemas: the schemas of KML 2.0 give placemarks a name of their own, and columns
// (KML 2.0 reference, Schema); a schema of another parent, or without a name, gives nothing.
func TestSchemas(t *testing.T) {
	const fields = `<SimpleField type="string" name="crew"/><SimpleField type="int"/>`
	const features = "<find><name>a</name><crew>north</crew><other>x</other><Point><coordinates>1,2</coordinates></Point></find><Placemark><crew>south</crew></Placemark>"
	for schema, want := range map[string][]string{
		`<Schema name="find" parent="Placemark">` + fields + "</Schema>":                                      {"Point 1 2 name=a crew=north", "crew=south"},
		"<Schema><name> find </name><parent> Placemark </parent>" + fields + "</Schema>":                      {"Point 1 2 name=a crew=north", "crew=south"},
		`<Schema name="find" parent="Folder">` + fields + "</Schema>":                                         {""},
		`<Schema parent="Placemark">` + fields + "</Schema>":                                                  {""},
		`<Schema name="find" parent="Placemark"/><Schema name="x" parent="Placemark">` + fields + "</Schema>": {"Point 1 2 name=a crew=north", "crew=south"},
	} {
		if diff := cmp.Diff(want, placemarks(t, schema+features, layers.Asked{})); diff != "" {
			t.Errorf("%s (-want +got):\n%s", schema, diff)
		}
	}
	// no more names and fields are kept than the limit of columns
	limits := format.DefaultLimits()
	limits.Columns = 3
	two := func(n int) string {
		return `<Schema name="find" parent="Placemark">` + strings.Repeat(`<SimpleField name="f"/>`, n) + "</Schema><find/>"
	}
	for n, want := range map[int]int{3: 1, 4: 0} {
		if got := placemarks(t, two(n), layers.Asked{Limits: limits}); len(got) != want {
			t.Errorf("%d fields where 3 are allowed: %q", n, got)
		}
	}
}

// TestLimitsOfAKML: columns, vertices and bytes of text up to the limit and one more.
func TestLimitsOfAKML(t *testing.T) {
	read := func(inside string, set func(*format.Limits)) error {
		limits := format.DefaultLimits()
		set(&limits)
		_, err := layers.Read(layers.Form{File: "a.kml", Bytes: []byte("<kml><Placemark>" + inside + "</Placemark></kml>")}, layers.Asked{Limits: limits})
		return err
	}
	for _, c := range []struct {
		inside, found string
		set           func(*format.Limits, int)
		most          int
	}{
		{"<name>a</name><description>b</description>", "more than %d different columns", func(l *format.Limits, n int) { l.Columns = n }, 2},
		{"<LineString><coordinates>1,2 3,4 5,6</coordinates></LineString>", "more vertices than limits.vertices", func(l *format.Limits, n int) { l.Vertices = n }, 3},
		{"<Track><coord>1 2</coord><coord>3 4</coord></Track>", "more vertices than limits.vertices", func(l *format.Limits, n int) { l.Vertices = n }, 2},
		{"<Polygon><outerBoundaryIs><LinearRing><coordinates>1,2 3,4</coordinates></LinearRing></outerBoundaryIs></Polygon>", "more vertices than limits.vertices", func(l *format.Limits, n int) { l.Vertices = n }, 2},
		{"<name>12345</name><description>67890</description>", "texts of a feature are longer than limits.record_mb", func(l *format.Limits, n int) { l.RecordBytes = n }, 10},
		{"<name>12345<b/>67890</name>", "an element is longer than limits.record_mb", func(l *format.Limits, n int) { l.RecordBytes = n }, 10},
	} {
		if err := read(c.inside, func(l *format.Limits) { c.set(l, c.most) }); err != nil {
			t.Errorf("%s at its limit of %d: %v", c.inside, c.most, err)
		}
		want := c.found
		if strings.Contains(want, "%d") {
			want = fmt.Sprintf(want, c.most-1)
		}
		if err := read(c.inside, func(l *format.Limits) { c.set(l, c.most-1) }); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s with a limit of %d: %v", c.inside, c.most-1, err)
		}
	}
}

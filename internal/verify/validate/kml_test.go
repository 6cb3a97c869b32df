package validate

import (
	"strings"
	"testing"
)

// sheet is a map with one of each thing that is checked.
const sheet = `<?xml version="1.0" encoding="UTF-8"?>
<kml xmlns="http://www.opengis.net/kml/2.2"><Document><name>map</name><description>what it is</description>
<Style id="s"><LineStyle><color>ff0055d5</color><width>2</width></LineStyle><PolyStyle><color>5a0055d5</color></PolyStyle></Style>
<Schema name="stand" id="f"><SimpleField name="n" type="int"/><SimpleField name="acres" type="double"/><SimpleField name="zone" type="bool"/><SimpleField name="id" type="string"/></Schema>
<Folder><name>stands</name>
<Placemark id="p1"><name>one</name><TimeSpan><begin>2026-07-01T00:00:00Z</begin><end>2026-07-02T00:00:00Z</end></TimeSpan><styleUrl>#s</styleUrl>
<ExtendedData><SchemaData schemaUrl="#f"><SimpleData name="n">7</SimpleData><SimpleData name="acres">0.5</SimpleData><SimpleData name="zone">true</SimpleData></SchemaData></ExtendedData>
<Polygon><outerBoundaryIs><LinearRing><coordinates>10,20 14,20 14,24 10,24 10,20</coordinates></LinearRing></outerBoundaryIs><innerBoundaryIs><LinearRing><coordinates>11,21 11,22 12,22 11,21</coordinates></LinearRing></innerBoundaryIs></Polygon></Placemark>
<Placemark id="p2"><name>two</name><MultiGeometry><Point><coordinates>10,20,0</coordinates></Point><LineString><coordinates>10,20 11,21</coordinates></LineString></MultiGeometry></Placemark>
</Folder>
<ScreenOverlay><name>legend</name><Icon><href>legend.png</href></Icon></ScreenOverlay>
</Document></kml>`

// TestKML: a map that keeps to OGC 07-147r2 and its schema, and changes that break one rule each, which
// is told.
func TestKML(t *testing.T) {
	if r := KML([]byte(sheet), Bounds{}, "legend.png"); !r.OK() || r.Features != 2 || !r.links["legend.png"] {
		t.Fatalf("a good map: %q, %d placemarks", r.Problems, r.Features)
	}
	for _, c := range []struct{ name, from, to, want string }{
		{"another root", "<kml xmlns", "<kmz xmlns", "not XML"}, {"another namespace", "kml/2.2", "kml/2.1", `root is kml in "http://www.opengis.net/kml/2.1"`},
		{"an id twice", `id="p2"`, `id="p1"`, `id "p1" is not unique`}, {"no name", "<name>two</name>", "", "Placemark without a name"}, {"an empty description", "what it is", " ", `description is empty`},
		{"the order", "<name>map</name><description>what it is</description>", "<description>what it is</description><name>map</name>", "element name comes after description"},
		{"a style's order", "<LineStyle><color>ff0055d5</color><width>2</width></LineStyle><PolyStyle><color>5a0055d5</color></PolyStyle>", "<PolyStyle><color>5a0055d5</color></PolyStyle><LineStyle><color>ff0055d5</color></LineStyle>", "element LineStyle comes after PolyStyle"},
		{"what does not belong there", "<name>two</name>", "<name>two</name><width>2</width>", "element width does not belong there"},
		{"a style that is not there", "#s<", "#t<", `"#t" does not resolve`}, {"a style of another kind", "#s<", "#f<", `"#f" does not resolve`}, {"a style elsewhere", "#s<", "s<", `"s" does not resolve`},
		{"a schema that is not there", `schemaUrl="#f"`, `schemaUrl="#g"`, `"#g" does not resolve`}, {"a schema of another kind", `schemaUrl="#f"`, `schemaUrl="#s"`, `"#s" does not resolve`},
		{"a type that is none", `name="zone" type="bool"`, `name="zone" type="flag"`, `SimpleField zone: type "flag"`},
		{"not declared", `<SimpleData name="n">`, `<SimpleData name="m">`, "SimpleData m is not declared"}, {"twice", `<SimpleData name="acres">0.5`, `<SimpleData name="n">5`, "SimpleData n comes twice"},
		{"empty", `name="n">7`, `name="n"> `, "SimpleData n is empty"}, {"no whole number", `name="n">7`, `name="n">7.5`, `SimpleData n: "7.5" is no int`}, {"too large", `name="n">7`, `name="n">3000000000`, "is no int"},
		{"no number", `name="acres">0.5`, `name="acres">half`, `SimpleData acres: "half" is no double`}, {"without end", `name="acres">0.5`, `name="acres">Inf`, "SimpleData acres is Inf"}, {"not a number", `name="acres">0.5`, `name="acres">NaN`, "SimpleData acres is NaN"},
		{"neither", `name="zone">true`, `name="zone">maybe`, `is no bool`},
		{"an end before", "<end>2026-07-02", "<end>2026-06-02", "TimeSpan from"}, {"no time", "<begin>2026-07-01T00:00:00Z", "<begin>2026-07-01", "TimeSpan from"},
		{"a colour of six", "ff0055d5", "0055d5", `color "0055d5" is not aabbggrr`}, {"capitals", "ff0055d5", "FF0055D5", "is not aabbggrr"}, {"no colour", "ff0055d5", "ff0055dx", "is not aabbggrr"},
		{"a picture elsewhere", "legend.png", "other.png", `href "other.png" is not in the file`},
		{"two positions", "10,20,0", "10,20,0 11,21,0", "Point of 2 positions"}, {"no position", "10,20,0", "", "Point of 0 positions"}, {"beyond the pole", "10,20,0", "10,91,0", "latitude 91"},
		{"one number", "10,20,0", "10", `tuple "10"`}, {"four numbers", "10,20,0", "10,20,0,0", `tuple "10,20,0,0"`}, {"words", "10,20,0", "a,b", `tuple "a,b"`},
		{"a line of one place", "10,20 11,21<", "10,20<", "line of 1 positions"}, {"an open ring", "10,24 10,20<", "10,24<", "ring is not closed"},
		{"an exterior the wrong way", "10,20 14,20 14,24 10,24 10,20", "10,20 10,24 14,24 14,20 10,20", "exterior ring is clockwise"}, {"a hole the wrong way", "11,21 11,22 12,22 11,21", "11,21 12,22 11,22 11,21", "hole is counter-clockwise"},
		{"no ring", "<outerBoundaryIs><LinearRing><coordinates>10,20 14,20 14,24 10,24 10,20</coordinates></LinearRing></outerBoundaryIs>", "<outerBoundaryIs></outerBoundaryIs>", "outerBoundaryIs without a LinearRing"},
		{"nothing in it", "<MultiGeometry><Point><coordinates>10,20,0</coordinates></Point><LineString><coordinates>10,20 11,21</coordinates></LineString></MultiGeometry>", "<MultiGeometry></MultiGeometry>", "MultiGeometry is empty"},
	} {
		broken := strings.Replace(sheet, c.from, c.to, 1)
		if broken == sheet {
			t.Fatalf("%s: nothing was changed", c.name)
		}
		r := KML([]byte(broken), Bounds{}, "legend.png")
		if len(r.Problems) == 0 || !strings.Contains(strings.Join(r.Problems, "\n"), c.want) {
			t.Errorf("%s: %q, want %q", c.name, r.Problems, c.want)
		}
	}
	if r := KML([]byte(sheet), Bounds{West: 0, South: 0, East: 13, North: 30}, "legend.png"); r.OK() {
		t.Error("a place outside of what is expected is not told")
	}
	// placemarks and folders may come in any order among themselves
	turned := strings.Replace(sheet, "<Folder><name>stands</name>", "<Placemark><name>first</name></Placemark><Folder><name>stands</name>", 1)
	if r := KML([]byte(turned), Bounds{}, "legend.png"); !r.OK() || r.Features != 3 {
		t.Errorf("a placemark before a folder: %q", r.Problems)
	}
}

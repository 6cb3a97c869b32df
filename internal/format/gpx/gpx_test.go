package gpx_test

import (
	"slices"
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// document is a GPX 1.1 document of two waypoints, a route and a track of two
// segments, whose moments are out of order.
const document = `<?xml version="1.0"?>
<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><metadata><name>a day</name></metadata>
<wpt lat="50.5" lon="10.25"><ele>210</ele><time>2026-07-01T09:00:00Z</time><name>A</name><link href="a.jpg"/><extensions><crew>north</crew></extensions></wpt>
<rte><name>R</name><rtept lat="50" lon="10"><name>first</name></rtept><rtept lat="51" lon="11"/></rte>
<trk><name>T</name><trkseg><trkpt lat="50" lon="10"><ele>1</ele><time>2026-07-01T10:00:00Z</time></trkpt><trkpt lat="50.1" lon="10.1"><time> 2026-07-01T09:30:00Z </time></trkpt></trkseg>
<trkseg><trkpt lat="50.2" lon="10.2"><time>2026-07-01T11:00:00Z</time></trkpt><trkpt lat="50.3" lon="10.3"/></trkseg></trk>
<wpt lat="-50.5" lon="-10.25"><name>B</name></wpt></gpx>`

// TestLayersOfAGPX reads each layer of a document (https://www.topografix.com/GPX/1/1/):
// places in longitude and latitude, parts, and texts by element.
func TestLayersOfAGPX(t *testing.T) {
	form := layers.Form{File: "day.gpx", Bytes: []byte(document)}
	for _, c := range []struct {
		layer  string
		kind   format.ShapeKind
		names  []string
		points [][][2]float64
		parts  [][]int
	}{
		{"waypoints", format.PointShape, []string{"A", "B"}, [][][2]float64{{{10.25, 50.5}}, {{-10.25, -50.5}}}, [][]int{nil, nil}},
		{"Routes", format.LineShape, []string{"R"}, [][][2]float64{{{10, 50}, {11, 51}}}, [][]int{{2}}},
		{"tracks", format.MultiLineShape, []string{"T"}, [][][2]float64{{{10, 50}, {10.1, 50.1}, {10.2, 50.2}, {10.3, 50.3}}}, [][]int{{2, 4}}},
		{"", format.PointShape, []string{"A", "B"}, [][][2]float64{{{10.25, 50.5}}, {{-10.25, -50.5}}}, [][]int{nil, nil}},
	} {
		l, err := layers.Read(form, layers.Asked{Layer: c.layer})
		if err != nil {
			t.Errorf("layer %q: %v", c.layer, err)
			continue
		}
		if got := l.Column("gpx:name"); !slices.Equal(got, c.names) {
			t.Errorf("layer %q has the names %q, want %q", c.layer, got, c.names)
		}
		for i, row := range l.Rows {
			if row.Kind != c.kind {
				t.Errorf("layer %q, feature %d is of kind %d, want %d", c.layer, i+1, row.Kind, c.kind)
			}
			if !slices.Equal(row.Points, c.points[i]) || !slices.Equal(row.Parts, c.parts[i]) {
				t.Errorf("layer %q, feature %d: %v in parts %v, want %v in %v", c.layer, i+1, row.Points, row.Parts, c.points[i], c.parts[i])
			}
		}
	}
	l, err := layers.Read(form, layers.Asked{})
	if err != nil {
		t.Fatal(err)
	}
	for column, want := range map[string]string{"crew": "north", "gpx:ele": "210", "gpx:time": "2026-07-01T09:00:00Z"} {
		if got := l.Column(column); len(got) != 2 || got[0] != want || got[1] != "" {
			t.Errorf("column %s is %q, want %q and nothing", column, got, want)
		}
	}
	if l.Column("gpx:link") != nil {
		t.Error("an empty link became a column")
	}
}

// TestGPXWithoutWhatIsAsked: a file without the layer asked for is refused with a list of those it
// has; a file without any layer is empty and no error.
func TestGPXWithoutWhatIsAsked(t *testing.T) {
	read := func(text string) error {
		_, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(text)}, layers.Asked{})
		return err
	}
	if err := read(`<gpx><trk><trkseg><trkpt lat="1" lon="2"/></trkseg></trk></gpx>`); err == nil || !strings.Contains(err.Error(), "no waypoints") {
		t.Errorf("tracks where points are wanted: %v", err)
	}
	if err := read(`<gpx></gpx>`); err != nil && strings.Contains(err.Error(), "no waypoints") {
		t.Errorf("an empty document has skipped nothing: %v", err)
	}
	if err := read(`<gpx><trk/><wpt lat="1" lon="2"/></gpx>`); err != nil {
		t.Errorf("a track before a waypoint: %v", err)
	}
}

// TestEntitiesAreRefused: entities are refused, since none is ever expanded; anything else that a
// document may begin with is read.
func TestEntitiesAreRefused(t *testing.T) {
	read := func(head, tail string) error {
		_, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(head + `<gpx><wpt lat="1" lon="2"/></gpx>` + tail)}, layers.Asked{})
		return err
	}
	for _, head := range []string{"", `<?xml version="1.0"?>`, `<!DOCTYPE gpx>`, `<!DOCTYPE gpx SYSTEM "gpx.dtd">`, "<!-- <!ENTITY a 'b'> -->"} {
		if err := read(head, ""); err != nil {
			t.Errorf("%s: %v", head, err)
		}
	}
	for _, head := range []string{`<!DOCTYPE gpx [<!ENTITY a "b">]>`, `<!DOCTYPE gpx [<!entity a "b">]>`} {
		if err := read(head, ""); err == nil || !strings.Contains(err.Error(), "entities") {
			t.Errorf("%s: %v, want that entities are not expanded", head, err)
		}
	}
	for _, tail := range []string{"\n", "<!-- end -->", "rest"} {
		if err := read("", tail); err != nil {
			t.Errorf("%q after the document: %v", tail, err)
		}
	}
	if err := read("", `<gpx><wpt lat="3" lon="4"/></gpx>`); err == nil || !strings.Contains(err.Error(), "another document") {
		t.Errorf("two documents: %v", err)
	}
}

// TestNestingIsLimited reads as deep as limits.nesting allows and no deeper; what was
// closed does not count.
func TestNestingIsLimited(t *testing.T) {
	limits := format.DefaultLimits()
	limits.Nesting = 4
	read := func(inside string) error {
		_, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(`<gpx><wpt lat="1" lon="2">` + inside + `</wpt></gpx>`)}, layers.Asked{Limits: limits})
		return err
	}
	if err := read(`<extensions><a>1</a></extensions>` + strings.Repeat(`<name>n</name>`, 9)); err != nil {
		t.Errorf("four deep: %v", err)
	}
	if err := read(`<extensions><a><b>1</b></a></extensions>`); err == nil || !strings.Contains(err.Error(), "limits.nesting") {
		t.Errorf("five deep: %v", err)
	}
}

// TestLimitsOfAGPX reads as many columns, vertices and bytes of text as the limits
// allow, and names the limit that one more passes.
func TestLimitsOfAGPX(t *testing.T) {
	const columns = `<gpx><wpt lat="1" lon="2"><name>n</name><desc>d</desc><sym>s</sym></wpt></gpx>`
	const track = `<gpx><trk><trkseg><trkpt lat="1" lon="2"/><trkpt lat="1" lon="3"/><trkpt lat="1" lon="4"/></trkseg></trk></gpx>`
	timed := false
	read := func(text, layer string, change func(*format.Limits)) error {
		limits := format.DefaultLimits()
		change(&limits)
		_, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(text)}, layers.Asked{Layer: layer, Limits: limits, Timed: timed})
		return err
	}
	l, err := layers.Read(layers.Form{File: "a.gpx", Bytes: []byte(columns)}, layers.Asked{})
	if err != nil {
		t.Fatal(err)
	}
	for less, want := range []string{"", "different columns"} {
		err := read(columns, "", func(limits *format.Limits) { limits.Columns = len(l.Names) - less })
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%d columns where %d are allowed: %v", len(l.Names), len(l.Names)-less, err)
		}
		for _, timed = range []bool{false, true} {
			err = read(track, "tracks", func(limits *format.Limits) { limits.Vertices = 3 - less })
			if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), "limits.vertices") {
				t.Errorf("three vertices where %d are allowed, with times %v: %v", 3-less, timed, err)
			}
		}
	}
	for _, timed = range []bool{false, true} {
		broken := strings.Replace(track, `lon="3"/>`, `lon="3"><time>2026</trkpt>`, 1)
		if err := read(broken, "tracks", func(*format.Limits) {}); err == nil || !strings.Contains(err.Error(), "closed by </trkpt>") {
			t.Errorf("a time that is not closed, with times %v: %v", timed, err)
		}
	}
}

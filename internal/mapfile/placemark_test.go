package mapfile

import (
	"bytes"
	"encoding/xml"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/paulmach/orb"
	"github.com/twpayne/go-kml/v3"
	"pgregory.net/rapid"

	"driftreach/internal/result"
	"driftreach/internal/stand"
)

// TestPlacemarks: each placemark equals, byte for byte, one made of go-kml's elements alone, with its
// own coordinates, which are written from floating point, and its description in CDATA.
func TestPlacemarks(t *testing.T) {
	run := fixture()
	run.Stands[0].Center = orb.Point{math.NaN(), 0}
	run.Stands[1].Footprint = stand.Pack(nil)
	run.Reaches[0].Path = nil
	for _, packed := range []bool{false, true} {
		samePlacemarks(t, &mapper{run: run, packed: packed})
	}
}

func samePlacemarks(t *testing.T, m *mapper) {
	t.Helper()
	run := m.run
	same := func(name string, i int, placemark, library kml.Element) {
		t.Helper()
		if got, want := marshalled(t, placemark), marshalled(t, library); got != want {
			t.Errorf("%s %d\n got %s\nwant %s", name, i, got, want)
		}
	}
	stands, reaches, zones, points := result.StandTable(run), result.ReachTable(run), result.ZoneTable(run), result.PointTable(run)
	for i := range run.Stands {
		same("stand", i, m.stand(stands, i), libraryStand(m, stands, i))
	}
	for _, i := range numbered(run) {
		same("number", int(i), m.number(int(i)), libraryNumber(m, int(i)))
	}
	for i := range run.Reaches {
		same("reach", i, m.reach(reaches, i), libraryFeature(m, reaches, i, reachLook(run.Reaches[i].Class).id, libraryLines(m, run.Reaches[i].Path)))
	}
	for i := range run.Zones {
		same("zone", i, m.zone(zones, i), libraryFeature(m, zones, i, zoneLook().id, libraryPolygons(m, run.Zones[i].Geometry.Polygons())))
	}
	for i := range run.Records.Listed {
		for _, visible := range []bool{true, false} {
			same("point", i, m.point(points, i, visible), libraryPoint(m, points, i, visible))
		}
	}
}

func marshalled(t *testing.T, e kml.Element) string {
	t.Helper()
	text, err := written(func(b *bytes.Buffer) error { return marshal(b, e) })
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func libraryStand(m *mapper, t result.Table, i int) kml.Element {
	s := &m.run.Stands[i]
	m.row = t.Row(m.run, i, m.row)
	balloon := string(m.appendStandBalloon(nil, t, i))
	return libraryPlacemark(m, t, i, balloon, lookOf(s).id, libraryPolygons(m, s.Footprint.Polygons()))
}

func libraryNumber(m *mapper, i int) kml.Element {
	s := &m.run.Stands[i]
	balloon := string(m.appendToDo(append(append([]byte("<p>Stand "), shown(s.ID)...), "</p>"...), s))
	return kml.Placemark(kml.Name(strconv.Itoa(s.Advice.Order)), libraryDescription(balloon), kml.StyleURL("#"+numberStyle),
		kml.Point(libraryCoordinates(wrapped(s.Footprint.Inside(s.Center)))))
}

// libraryFeature builds a placemark element by element, under the name that the mapper made last.
func libraryFeature(m *mapper, t result.Table, i int, style string, shapes []kml.Element) kml.Element {
	return libraryPlacemark(m, t, i, balloonTable(t, t.Row(m.run, i, nil))+balloonCaution, style, shapes)
}

func libraryPlacemark(m *mapper, t result.Table, i int, balloon, style string, shapes []kml.Element) kml.Element {
	p := kml.Placemark(
		kml.Name(title(string(m.name))),
		libraryDescription(balloon),
		kml.StyleURL("#"+style),
		libraryData(m, t, t.Row(m.run, i, nil)),
	)
	switch len(shapes) {
	case 0:
		return p
	case 1:
		return p.Append(shapes[0])
	}
	return p.Append(kml.MultiGeometry(shapes...))
}

// libraryDescription is a description in CDATA, as encoding/xml writes it. That leaves characters that
// XML does not allow to its caller.
type libraryDescription string

func (d libraryDescription) MarshalXML(enc *xml.Encoder, _ xml.StartElement) error {
	allowed := strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0xFFFE || r == 0xFFFF {
			return utf8.RuneError
		}
		return r
	}, string(d))
	type inner struct {
		Text string `xml:",cdata"`
	}
	return enc.EncodeElement(inner{allowed}, xml.StartElement{Name: xml.Name{Local: "description"}})
}

// libraryData builds a row's data, typed by a schema or, in the packed map, by name.
func libraryData(m *mapper, t result.Table, row []result.Value) kml.Element {
	if !m.packed {
		return librarySchemaData(t, row)
	}
	data := kml.ExtendedData()
	for k, v := range row {
		s := v.String()
		if v.Kind == result.Flag {
			s = string(rune('0' + v.Int))
		}
		if s != "" {
			data.Append(kml.Data(t.Fields[k].Name, kml.Value(s)))
		}
	}
	return data
}

func librarySchemaData(t result.Table, row []result.Value) kml.Element {
	data := kml.SchemaData("#" + t.Name)
	for k, v := range row {
		s := v.String()
		if v.Kind == result.Flag {
			s = string(rune('0' + v.Int))
		}
		if s != "" {
			data.Append(kml.SimpleData(t.Fields[k].Name, s))
		}
	}
	return kml.ExtendedData(data)
}

// libraryPoint is the placemark of a survey point, element by element.
func libraryPoint(m *mapper, table result.Table, i int, visible bool) kml.Element {
	r := &m.run.Records.Listed[i]
	p := kml.Placemark(kml.Name(title(r.ID)))
	if !visible {
		p.Append(kml.Visibility(false))
	}
	own := mapPoints(m.run)
	row := own.Row(m.run, i, nil)
	m.row = table.Row(m.run, i, m.row)
	if carried := string(m.appendCarried(nil, table, len(own.Fields))); carried != "" {
		p.Append(libraryDescription(carried + balloonTable(own, row) + balloonCaution))
	}
	return p.Append(
		kml.StyleURL("#"+pointLook(r).id),
		libraryData(m, own, row),
		kml.Point(libraryCoordinates(wrapped(r.Position))),
	)
}

func libraryPolygons(m *mapper, mp orb.MultiPolygon) []kml.Element {
	var all []kml.Element
	for _, rings := range polygons(mp) {
		p := kml.Polygon(kml.OuterBoundaryIs(kml.LinearRing(libraryCoordinates(rings[0]...))))
		for _, hole := range rings[1:] {
			p.Append(kml.InnerBoundaryIs(kml.LinearRing(libraryCoordinates(hole...))))
		}
		all = append(all, p)
	}
	return all
}

func libraryLines(m *mapper, ls orb.LineString) []kml.Element {
	var all []kml.Element
	for _, l := range lines(ls) {
		all = append(all, kml.LineString(kml.Tessellate(true), libraryCoordinates(m.thin.line(l)...)))
	}
	return all
}

func libraryCoordinates(path ...place) kml.Element {
	out := make([]kml.Coordinate, len(path))
	for i, p := range path {
		out[i] = kml.Coordinate{Lon: p.lon(), Lat: p.lat()}
	}
	return kml.Coordinates(out...)
}

// TestXMLText: any bytes are escaped as by xml.Encoder.
func TestXMLText(t *testing.T) {
	check := func(t interface{ Fatalf(string, ...any) }, s string) {
		var b bytes.Buffer
		enc := xml.NewEncoder(&b)
		if err := enc.EncodeToken(xml.CharData(s)); err != nil {
			t.Fatalf("%v", err)
		}
		if err := enc.Flush(); err != nil {
			t.Fatalf("%v", err)
		}
		if got := appendXML(nil, s); !bytes.Equal(got, b.Bytes()) {
			t.Fatalf("%q became %q, want %q", s, got, b.Bytes())
		}
		if got := appendXML(nil, []byte(s)); !bytes.Equal(got, b.Bytes()) {
			t.Fatalf("bytes %q became %q, want %q", s, got, b.Bytes())
		}
	}
	for _, s := range append(nasty, "\uFFFE\uFFFF\uFFFD", "\x7f\u0080", "a\xed\xa0\x80b", "\xf4\x90\x80\x80", "é\xc3") {
		check(t, s)
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, string(rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")))
		check(t, rapid.String().Draw(t, "text"))
	})
}

// TestSteps: degrees are rounded to steps as math.Round does.
func TestSteps(t *testing.T) {
	check := func(t interface{ Fatalf(string, ...any) }, degrees float64) {
		if got, want := steps(degrees), int64(math.Round(degrees*perDegree)); got != want {
			t.Fatalf("%v is %d steps, want %d", degrees, got, want)
		}
	}
	for _, x := range []float64{0, 0.49999999999999994e-7, 0.5e-7, 1.5e-7, -0.5e-7, -2.5e-7, 180, -180.00000005} {
		check(t, x)
	}
	rapid.Check(t, func(t *rapid.T) { check(t, rapid.Float64Range(-720, 720).Draw(t, "degrees")) })
}

// Markup that a viewer would show as HTML in a balloon, and entities, are removed from names;
// ordinary names are unchanged. The forms are those of OGC 07-147r2, section 11.2 (BalloonStyle,
// text).
func TestTitlesOpenNoMarkupAndNoEntity(t *testing.T) {
	for in, want := range map[string]string{
		"Cañón Creek & Fork":              "Cañón Creek & Fork",
		"<img src=x onerror=alert(1)>":    "‹img src=x onerror=alert(1)›",
		"$[description] $[points/parcel]": "$(description] $(points/parcel]",
		"turned \u202eround":              `turned \u202eround`,
		"it costs $5":                     "it costs $5",
	} {
		if got := title(in); got != want {
			t.Errorf("title(%q) = %q, want %q", in, got, want)
		}
	}
}

package earth

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// TestQuantities: numbers and numbers with a unit, as PROJJSON writes them; by hand.
func TestQuantities(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
		ok   bool
	}{
		{`6378137`, 6378137, true}, {`{"value":3,"unit":"metre"}`, 3, true}, {`{"value":3}`, 3, true}, {`{"value":2,"unit":{"type":"LinearUnit","name":"km","conversion_factor":1000}}`, 2000, true},
		{`{"value":2,"unit":{"type":"AngularUnit","name":"grad","conversion_factor":0.015707963267949}}`, 1.8, true},
		{`"3"`, 0, false}, {`[1]`, 0, false}, {``, 0, false},
	} {
		var raw json.RawMessage
		if c.text != "" {
			raw = json.RawMessage(c.text)
		}
		got, ok := quantity(raw)
		if ok != c.ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v, %v", c.text, got, ok)
		}
	}
	if got, _ := quantity(json.RawMessage(`{"value":2,"unit":"furlong"}`)); got == got {
		t.Errorf("of an unknown unit: %v", got)
	}
	for _, c := range []struct {
		text   string
		factor float64
		angle  bool
	}{
		{`"metre"`, 1, false}, {`"degree"`, 1, true}, {`"unity"`, 1, false}, {`{"type":"LinearUnit","conversion_factor":0.304800609601219}`, 1200. / 3937, false},
		{`{"type":"AngularUnit","conversion_factor":0.0174532925199433}`, 1, true}, {`{"type":"ScaleUnit","conversion_factor":1}`, 1, false},
	} {
		if factor, angle := jsonUnit(json.RawMessage(c.text)); factor != c.factor || angle != c.angle {
			t.Errorf("%s: %v, %v", c.text, factor, angle)
		}
	}
	if factor, angle := jsonUnit(nil); factor != 1 || angle {
		t.Errorf("of no unit: %v, %v", factor, angle)
	}
	for _, text := range []string{`7`, `"chain"`, `[]`} {
		if factor, _ := jsonUnit(json.RawMessage(text)); factor == factor {
			t.Errorf("%s: %v", text, factor)
		}
	}
}

// TestPROJJSONByHand: systems written by hand from the schema of PROJJSON 0.7: ellipsoids by either
// radius or flattening, prime meridians, units of axes, and systems that must be rejected.
func TestPROJJSONByHand(t *testing.T) {
	degrees := func(ellipsoid, more string) string {
		return `{"type":"GeographicCRS","name":"WGS 84","datum":{"type":"GeodeticReferenceFrame","name":"World Geodetic System 1984","ellipsoid":{"name":"WGS 84",` + ellipsoid + `}` + more + `},
			"coordinate_system":{"subtype":"ellipsoidal","axis":[{"direction":"north","unit":"degree"},{"direction":"east","unit":"degree"}]}}`
	}
	for name, text := range map[string]string{
		"flattening":     degrees(`"semi_major_axis":6378137,"inverse_flattening":298.257223563`, ``),
		"polar radius":   degrees(`"semi_major_axis":6378137,"semi_minor_axis":6356752.314245179`, ``),
		"with a unit":    degrees(`"semi_major_axis":{"value":6378.137,"unit":{"type":"LinearUnit","name":"km","conversion_factor":1000}},"inverse_flattening":298.257223563`, ``),
		"Greenwich":      degrees(`"semi_major_axis":6378137,"inverse_flattening":298.257223563`, `,"prime_meridian":{"name":"Greenwich","longitude":0}`),
		"in an ensemble": strings.Replace(degrees(`"semi_major_axis":6378137,"inverse_flattening":298.257223563`, ``), `"datum"`, `"datum_ensemble"`, 1),
		"compound":       `{"type":"CompoundCRS","name":"x","components":[` + degrees(`"semi_major_axis":6378137,"inverse_flattening":298.257223563`, ``) + `,{"type":"VerticalCRS","name":"h"}]}`,
	} {
		if c, err := ParseCRS(text); err != nil || !c.IsWGS84() || name != "compound" && c.Name != "WGS 84" {
			t.Errorf("%s: %+v, %v", name, c, err)
		}
	}
	for name, c := range map[string]struct{ text, reason string }{
		"a ball":           {degrees(`"radius":6371000`, ``), "ellipsoid"},
		"another radius":   {degrees(`"semi_major_axis":6378206.4,"inverse_flattening":298.257223563`, ``), "ellipsoid"},
		"no ellipsoid":     {degrees(`"x":1`, ``), "ellipsoid"},
		"Paris":            {degrees(`"semi_major_axis":6378137,"inverse_flattening":298.257223563`, `,"prime_meridian":{"name":"Paris","longitude":{"value":2.5969213,"unit":{"type":"AngularUnit","conversion_factor":0.015707963267949}}}`), "prime meridian is 2.337"},
		"no system":        {`{"type":"VerticalCRS","name":"heights"}`, "heights"},
		"too deep":         {strings.Repeat(`{"components":[`, 5) + degrees(`"semi_major_axis":6378137,"inverse_flattening":298.257223563`, ``) + strings.Repeat(`]}`, 5), "no geographic or projected system"},
		"not closed":       {degrees(`"semi_major_axis":6378137`, ``)[:80], "no PROJJSON"},
		"a unit of no one": {strings.Replace(projectedJSON("metre", 0), `"direction":"east","unit":"metre"`, `"direction":"east","unit":"chain"`, 1), "unit is NaN"},
	} {
		if got, err := ParseCRS(c.text); !errors.Is(err, ErrUnsupported) || !strings.Contains(err.Error(), c.reason) {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
}

// TestPlainNames: letters and digits are kept, in lower case, and nothing beside them: not the
// characters next to them in ASCII, blanks, or letters of other scripts.
func TestPlainNames(t *testing.T) {
	for in, want := range map[string]string{
		"@AZ[`az{/09:": "azaz09", "SIRGAS 2000": "sirgas2000", "Latitude_of-origin (1)": "latitudeoforigin1", "Système": "systme", "": "",
		"abcdefghijklmnopqrstuvwxyz0123456789": "abcdefghijklmnopqrstuvwxyz0123456789", "ABCDEFGHIJKLMNOPQRSTUVWXYZ": "abcdefghijklmnopqrstuvwxyz",
	} {
		if got := plainName(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

// TestDeepPROJJSON: systems made of systems may be three deep, of any kind, and no deeper; a file
// cannot make the reader go on for ever.
func TestDeepPROJJSON(t *testing.T) {
	degrees := `{"name":"WGS 84","datum":{"name":"World Geodetic System 1984","ellipsoid":{"semi_major_axis":6378137,"inverse_flattening":298.257223563}}}`
	for name, wrap := range map[string]string{
		"compound": `{"components":[%s]}`, "bound": `{"source_crs":%s,"transformation":{"parameters":[{"name":"X","value":0},{"name":"Y","value":0},{"name":"Z","value":0}]}}`,
		"projected": `{"name":"zone","base_crs":%s,"conversion":{"method":{"name":"Transverse Mercator"},"parameters":[{"name":"Scale factor at natural origin","value":1,"unit":"unity"}]}}`,
	} {
		text := degrees
		for deep := 1; deep <= 5; deep++ {
			text = fmt.Sprintf(wrap, text)
			c, err := ParseCRS(text)
			if deep <= 3 && (err != nil || c.IsGeographic() != (name != "projected")) {
				t.Errorf("%s, %d deep: %+v, %v", name, deep, c, err)
			}
			if deep > 3 && !errors.Is(err, ErrUnsupported) {
				t.Errorf("%s, %d deep: %+v, %v", name, deep, c, err)
			}
		}
	}
}

// projectedJSON is a zone about 9 E with a false easting in metres and axes in a unit.
func projectedJSON(unit string, easting float64) string {
	axis := `"metre"`
	if unit == "foot" {
		axis = `{"type":"LinearUnit","name":"foot","conversion_factor":0.3048}`
	}
	return fmt.Sprintf(`{"type":"ProjectedCRS","name":"zone","base_crs":{"name":"WGS 84","datum":{"name":"World Geodetic System 1984","ellipsoid":{"semi_major_axis":6378137,"inverse_flattening":298.257223563}}},
		"conversion":{"name":"y","method":{"name":"Transverse Mercator"},"parameters":[{"name":"Latitude of natural origin","value":50,"unit":{"type":"AngularUnit","name":"grad","conversion_factor":0.015707963267949}},
		{"name":"Longitude of natural origin","value":9,"unit":"degree"},{"name":"Scale factor at natural origin","value":0.9996,"unit":"unity"},{"name":"False easting","value":%v,"unit":"metre"}]},
		"coordinate_system":{"subtype":"Cartesian","axis":[{"direction":"east","unit":%s},{"direction":"north","unit":%s}]}}`, easting, axis, axis)
}

// TestProjectedPROJJSON: the origin, in metres and in feet, at 50 grads north and 9 degrees
// east; by hand.
func TestProjectedPROJJSON(t *testing.T) {
	for unit, metres := range map[string]float64{"metre": 1, "foot": 0.3048} {
		c := parsed(t, projectedJSON(unit, 5e5))
		got, err := c.Degrees(orb.Point{5e5 / metres, 0})
		if err != nil || math.Abs(got[0]-9) > 1e-9 || math.Abs(got[1]-45) > 1e-9 || c.IsGeographic() {
			t.Errorf("in %s: %v, %v", unit, got, err)
		}
		north, err := c.Degrees(orb.Point{5e5 / metres, 1000 / metres})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "a kilometre north", float64(Distance(got, north))*0.9996, 1000, 0.01)
	}
	for _, direction := range []string{"west", "south"} {
		text := strings.Replace(projectedJSON("metre", 0), `"direction":"east"`, `"direction":"`+direction+`"`, 1)
		if got, err := ParseCRS(text); !errors.Is(err, ErrUnsupported) {
			t.Errorf("%s: %+v", direction, got)
		}
	}
}

// TestFormsOfCodes: as people, programs and services write them; by hand.
func TestFormsOfCodes(t *testing.T) {
	for text, want := range map[string]string{
		"EPSG:32633": "WGS 84 / UTM zone 33N", "epsg:32633": "WGS 84 / UTM zone 33N", " 32633 ": "WGS 84 / UTM zone 33N", "urn:ogc:def:crs:EPSG::32633": "WGS 84 / UTM zone 33N",
		"urn:x-ogc:def:crs:EPSG:9.2:32633": "WGS 84 / UTM zone 33N", "http://www.opengis.net/def/crs/EPSG/0/32733": "WGS 84 / UTM zone 33S", "http://www.opengis.net/gml/srs/epsg.xml#32733": "WGS 84 / UTM zone 33S",
		"CRS84": "WGS 84", "OGC:CRS84": "WGS 84", "OGC:CRS84h": "WGS 84", "WGS84": "WGS 84", "urn:ogc:def:crs:OGC::CRS83": "NAD83", "OGC:CRS83": "NAD83",
		"EPSG:900913": "WGS 84 / Pseudo-Mercator", "ESRI:102100": "WGS 84 / Pseudo-Mercator", "102113": "WGS 84 / Pseudo-Mercator",
		"ESRI:102008": "North_America_Albers_Equal_Area_Conic", "ESRI:102570": "WGS_1984_Complex_UTM_Zone_20N", "ESRI:102580": "WGS_1984_Complex_UTM_Zone_30N",
		"EPSG:26911": "NAD83 / UTM zone 11N", "EPSG:6339": "NAD83(2011) / UTM zone 10N", "EPSG:7856": "GDA2020 / UTM zone 56S",
	} {
		if c, err := ParseCRS(text); err != nil || c.Name != want {
			t.Errorf("%q: %q, %v, want %q", text, c.Name, err, want)
		}
	}
	for _, text := range []string{"", ":", "EPSG:", "EPSG:x", "EPSG:32633.5", "IGNF:32633", "OGC:WGS84", "UTM33", "EPSG:-32633", "ESRI:102569", "ESRI:102581", "ESRI:32633", "EPSG:999999", "urn:ogc:def:crs:IAU::30100"} {
		if c, err := ParseCRS(text); !errors.Is(err, ErrUnsupported) {
			t.Errorf("%q is read as %q", text, c.Name)
		}
	}
}

// TestLongestDefinition: a definition of the longest allowed length, and one a byte longer.
func TestLongestDefinition(t *testing.T) {
	pad := longestCRS - len(degreesOfWGS84)
	longest := strings.Replace(degreesOfWGS84, `"WGS 84"`, `"WGS 84`+strings.Repeat("x", pad)+`"`, 1)
	if c, err := ParseCRS(longest); err != nil || !c.IsWGS84() || len(longest) != 65536 {
		t.Errorf("%d bytes: %v", len(longest), err)
	}
	if _, err := ParseCRS(strings.Replace(longest, "xx", "xxx", 1)); !errors.Is(err, ErrUnsupported) || !strings.Contains(err.Error(), "longer than 65536 bytes") {
		t.Errorf("a byte more: %v", err)
	}
	deep := func(n int) string { return strings.Repeat("A[", n) + "1" + strings.Repeat("]", n) }
	if _, err := ParseCRS(deep(deepestCRS + 1)); err == nil || strings.Contains(err.Error(), "no WKT") {
		t.Errorf("as deep as is allowed: %v", err)
	}
	if _, err := ParseCRS(deep(deepestCRS + 2)); err == nil || !strings.Contains(err.Error(), "no WKT") {
		t.Errorf("deeper: %v", err)
	}
}

// TestPiecesWithHoles: of two pieces west of the antimeridian the hole stays in the piece that
// contains it, whichever comes first; by hand: a horseshoe open to the west with a hole in one leg.
func TestPiecesWithHoles(t *testing.T) {
	shoe := orb.Ring{{181, 0}, {181, 5}, {178, 5}, {178, 3}, {180.5, 3}, {180.5, 2}, {178, 2}, {178, 0}, {181, 0}}
	for _, south := range []float64{0.5, 3.5} {
		hole := clockwise(rectangle(178.5, south, 179.5, south+1))
		got := CutPolygon(orb.MultiPolygon{{shoe, hole}})
		checkCut(t, "horseshoe", got)
		if len(got) != 3 {
			t.Fatalf("%d pieces", len(got))
		}
		for _, p := range got {
			_, east := lonRange(p[0])
			holds := contains(p[0], orb.Point{179, south + 0.5})
			if (len(p) == 2) != holds || len(p) == 2 && east != 180 {
				t.Errorf("a hole at %v: %v", south, p)
			}
		}
	}
}

// TestGridStops: look is not called again after it returned false, and points of a cell come in the
// order they were added.
func TestGridStops(t *testing.T) {
	grid := NewGrid(100)
	at := orb.Point{10, 50}
	asked := 0
	grid.Near(at, func(int32) bool { asked++; return true })
	for i := range int32(5) {
		grid.Add(i, at)
	}
	var found []int32
	grid.Near(at, func(i int32) bool { found = append(found, i); return len(found) < 3 })
	if asked != 0 || fmt.Sprint(found) != "[0 1 2]" {
		t.Errorf("%d asked of nothing, found %v", asked, found)
	}
	far, _ := WGS84.Direct(at, 40, 350) // beyond the neighbouring cells
	grid.Near(far, func(i int32) bool { t.Errorf("found %d from 350 m off", i); return true })
}

// TestTurned: longitudes brought to -180 to 180, both ends as they are; by hand.
func TestTurned(t *testing.T) {
	for lon, want := range map[float64]float64{0: 0, 180: 180, -180: -180, 181: -179, -181: 179, 359: -1, 360: 0, 540: -180, 541: -179, 720: 0, -540: 180, -725: -5} {
		if got := Turned(lon); got != want {
			t.Errorf("%v: %v, want %v", lon, got, want)
		}
	}
	area := orb.Polygon{{{1, 2}, {3, 2}, {3, 4}, {1, 2}}}
	moved := TurnedArea(area, 360)
	if moved[0][1] != (orb.Point{363, 2}) || area[0][1] != (orb.Point{3, 2}) {
		t.Errorf("moved %v, was %v", moved, area)
	}
	if same := TurnedArea(area, 0); &same[0][0] != &area[0][0] {
		t.Error("an area that stays is copied")
	}
}

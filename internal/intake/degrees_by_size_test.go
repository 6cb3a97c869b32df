package intake

import (
	"errors"
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/testkit"
)

// TestDegreesInAGrid: a file whose positions all have the size of degrees is not read in a projected
// system, where UTM zone 19 south would put it at 85.5 degrees south. GPX is in degrees always, and one
// large position says that the file is in the grid. Santiago lies near 71 west, 33 south.
func TestDegreesInAGrid(t *testing.T) {
	const head = "occurrenceID,decimalLongitude,decimalLatitude,eventDate\n"
	feature := func(kind, coordinates string) string {
		return `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"eventDate":"2026-07-02"},"geometry":{"type":"` + kind + `","coordinates":` + coordinates + `}}]}`
	}
	for name, c := range map[string]struct {
		system, in string
		stops      bool
	}{
		"columns":             {"EPSG:32719", head + "a,-71.14,-33.83,2026-07-02\nb,-71.15,-33.84,2026-07-02\n", true},
		"one in the grid":     {"EPSG:32719", head + "a,-71.14,-33.83,2026-07-02\nb,298863,6263170,2026-07-02\n", false},
		"none at all":         {"EPSG:32719", head, false},
		"only zeros":          {"EPSG:32719", head + "a,0,0,2026-07-02\n", false},
		"the grid":            {"EPSG:32719", head + "a,298863,6263170,2026-07-02\n", false},
		"just beyond degrees": {"EPSG:32719", head + "a,181,91,2026-07-02\n", false},
		"the last of degrees": {"EPSG:32719", head + "a,180,90,2026-07-02\n", true},
		"degrees":             {"EPSG:4326", head + "a,-71.14,-33.83,2026-07-02\n", false},
		"no system":           {"", head + "a,-71.14,-33.83,2026-07-02\n", false},
		"a point":             {"EPSG:32719", feature("Point", "[-71.14,-33.83]"), true},
		"an area":             {"EPSG:32719", feature("Polygon", "[[[-71.14,-33.83],[-71.13,-33.83],[-71.13,-33.82],[-71.14,-33.83]]]"), true},
		"waypoints":           {"EPSG:32719", `<gpx version="1.1" creator="x"><wpt lat="-33.83" lon="-71.14"><time>2026-07-02T15:00:00Z</time></wpt></gpx>`, false},
	} {
		o := testOptions()
		o.CRS = c.system
		_, _, err := ReadPoints(testkit.Source("p", strings.NewReader(c.in)), o)
		var unusable *format.UnusableError
		if c.stops != (errors.As(err, &unusable) && strings.Contains(unusable.Found, "all of them are of the size of degrees, and the file is read in WGS 84 / UTM zone 19S")) || !c.stops && err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAnglesInAGrid: an angle among eastings is named as such, with the system of the file.
func TestAnglesInAGrid(t *testing.T) {
	o := testOptions()
	o.CRS = "EPSG:32719"
	records, findings, _ := readPoints(t, "occurrenceID,decimalLongitude,decimalLatitude,eventDate\na,298863,6263170,2026-07-02\nb,71°08.6'W,33°50.1'S,2026-07-02\nc,298863,33°50.1'S,2026-07-02\nd,x,6263170,2026-07-02\n", o)
	if len(records) != 1 || codes(findings) != "b position-in-degrees; c position-in-degrees; d position-unreadable" {
		t.Fatalf("%d records, %s", len(records), codes(findings))
	}
	if m := findings[0].Message; m != "decimalLongitude is in degrees, and the file is read in WGS 84 / UTM zone 19S; the record was rejected" {
		t.Error(m)
	}
}

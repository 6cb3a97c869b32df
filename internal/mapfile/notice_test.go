package mapfile

import (
	"bytes"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/result"
)

// TestNoticesKeepTheirPlace: notices.geojson has the geometry of each work, cut at 180 degrees;
// positions from the fixture, by hand.
func TestNoticesKeepTheirPlace(t *testing.T) {
	run := fixture()
	c := parsed(t, layers[5], run)
	if layers[5].name != "notices" {
		t.Fatal("the layers were put in another order")
	}
	want := []string{
		"MultiPoint", "MultiLineString", "Polygon", "Point", // south
		"MultiPoint", "MultiLineString", "Polygon", "Point", // far north
		"MultiPoint", "MultiLineString", "MultiPolygon", "Point", // the area is cut in two
		"MultiPoint", "MultiLineString", "Polygon", "Point",
	}
	for i, f := range c.Features {
		if got := typeOf(f.Geometry); got != want[i] {
			t.Errorf("notice %d is a %s, want %s", i, got, want[i])
		}
	}
	if got := c.Features[8].Geometry.(orb.MultiPoint)[1]; got != (orb.Point{-179.9991, -17.5}) {
		t.Errorf("the second point of the antimeridian's work is %v", got)
	}
	if lines := c.Features[9].Geometry.(orb.MultiLineString); len(lines) != 4 || !onBothSides(lines.Bound()) {
		t.Errorf("two lines across 180 degrees make %d pieces within %v", len(lines), lines.Bound())
	}
}

// TestNoticeFolder: the map has the folder only if works were supplied, and a balloon says whom to
// inform and what to do.
func TestNoticeFolder(t *testing.T) {
	run := fixture()
	text := string(mustKML(t, run))
	for _, want := range []string{"<name>Notices</name>", `<Schema id="notices"`, "go round the stand", "upstream of clean water", "<name>mowing L plain, stand 2026Q3-0000</name>", "12.3 m"} {
		if !strings.Contains(text, want) {
			t.Errorf("the map lacks %q", want)
		}
	}
	run.WorksGiven, run.Works, run.Notices = false, nil, nil
	if text := string(mustKML(t, run)); strings.Contains(strings.ToLower(text), "notice") {
		t.Error("a map without works speaks of notices")
	}
	for _, d := range Deliverables(Extras{}) {
		if name := made(t, d, run, 1).name; strings.HasPrefix(name, "notices") {
			t.Errorf("%s is made without works", name)
		}
	}
}

func mustKML(t *testing.T, run *result.Run) []byte {
	t.Helper()
	data, err := written(func(b *bytes.Buffer) error { return writeKML(b, run, 1) })
	if err != nil {
		t.Fatal(err)
	}
	return data
}

package survey

import (
	"fmt"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// TestOutlineOfACountry: an outline larger than any patch is rejected, and one
// over the antimeridian is as large as it is.
func TestOutlineOfACountry(t *testing.T) {
	for _, test := range []struct {
		name       string
		west, east float64
		north      float64
		want       int
	}{
		{"patch", 10, 10.01, 50.01, 1}, {"wide", 10, 40, 50.01, 0}, {"tall", 10, 10.01, 70, 0}, {"over the antimeridian", 179.99, -179.99, 50.01, 1},
	} {
		ring := orb.Ring{{test.west, 50}, {test.east, 50}, {test.east, test.north}, {test.west, 50}}
		kept, findings := Check([]Record{{ID: "a", Position: ring[0], Outline: orb.MultiPolygon{{ring}}, Detected: true}}, DefaultOptions(Quarter{Year: 2026, Number: 3}))
		if len(kept) != test.want {
			t.Errorf("%s: %d kept, %v", test.name, len(kept), findings)
		}
	}
}

// TestAreaBesideAnOutline: a square with 123.1 m2 by GeographicLib (pyproj's Geod) beside recorded areas;
// those more than twice or less than half of it are told, the first by its area.
func TestAreaBesideAnOutline(t *testing.T) {
	square := orb.MultiPolygon{{{{10, 0}, {10.0001, 0}, {10.0001, 0.0001}, {10, 0.0001}, {10, 0}}}}
	for _, c := range []struct {
		name  string
		areas []geo.SquareMeters
		want  string
	}{
		{"near", []geo.SquareMeters{123.1, 246, 61.6, 0}, ""},
		{"large", []geo.SquareMeters{123, 247, 1325}, "r1 247: 2 of the 3 patch areas beside an outline are more than 2 times as large or as small as it; the first outline has 123.1 m2. The outlines count"},
		{"small", []geo.SquareMeters{0.03, 0}, "r0 0.03: 1 of the 1 patch areas beside an outline is more than 2 times as large or as small as it; the first outline has 123.1 m2. The outlines count"},
	} {
		var records []Record
		for i, area := range c.areas {
			records = append(records, but(on(fmt.Sprint("r", i), "2026-07-02", float64(1000*i)), func(r *Record) { r.Row, r.PatchArea, r.Outline = i+1, area, square }))
		}
		slices.Reverse(records)
		got := ""
		for _, f := range Examine(records, DefaultOptions(q3)).Findings {
			if f.Rule.Code == "patch-differs-from-outline" {
				got += f.Record + " " + f.Value + ": " + f.Message
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	bare := on("a", "2026-07-02", 0)
	bare.PatchArea = 9999
	if done := Examine([]Record{bare}, DefaultOptions(q3)); len(done.Findings) > 0 {
		t.Errorf("without an outline: %+v", done.Findings)
	}
}

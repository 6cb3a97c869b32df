package main

import (
	"strings"
	"testing"
)

// inFormats gives the rows of the packages within internal/format, like picture for all packages. A
// format may import what formats share, but no other format; one package above them lists them.
var inFormats = map[string]int{
	"":          0,
	"wellknown": 1, "xmldoc": 1, "archive": 1,
	"grid": 2,
	"csv":  3, "geojson": 3, "geopackage": 3, "parquet": 3, "shapefile": 3, "gpx": 3, "kml": 3, "xlsx": 3,
	"detect": 4,
}

// TestFormatsKnowNoOtherAndNoPlants: besides what formats share, a format imports only geometry,
// and findings to report faults.
func TestFormatsKnowNoOtherAndNoPlants(t *testing.T) {
	const room = "internal/format"
	seen := map[string]bool{}
	for _, s := range sources(t) {
		if s.dir != room && !strings.HasPrefix(s.dir, room+"/") || s.test {
			continue
		}
		own := strings.TrimPrefix(strings.TrimPrefix(s.dir, room), "/")
		row, known := inFormats[own]
		if !known {
			t.Errorf("%s has no row", s.dir)
		}
		seen[own] = true
		for _, spec := range s.file.Imports {
			imported, inside := strings.CutPrefix(strings.Trim(spec.Path.Value, `"`), "driftreach/")
			below, format := strings.CutPrefix(imported, room)
			its, known := inFormats[strings.TrimPrefix(below, "/")]
			switch {
			case !inside, imported == "internal/check", strings.HasPrefix(imported, "geo/"):
			case !format:
				t.Errorf("%s: a format knows nothing of %s", s.path, imported)
			case !known || its >= row:
				t.Errorf("%s: the arrow to %s does not go down", s.path, imported)
			}
		}
	}
	if len(seen) != len(inFormats) {
		t.Errorf("%d packages of %d rows", len(seen), len(inFormats))
	}
}

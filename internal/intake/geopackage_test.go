package intake

import (
	"bytes"
	"strings"
	"testing"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// TestGeoPackageAttributes: a table without geometries (OGC 12-128r18, option Attributes) is read
// if it is named or the only one, and never in place of a layer.
func TestGeoPackageAttributes(t *testing.T) {
	work := []string{
		"CREATE TABLE work (id INTEGER PRIMARY KEY, date DATE, stand_id TEXT, method TEXT)",
		"INSERT INTO work VALUES (1, '2026-07-03', 'S-1', 'hand pull'), (2, '2026-07-04', 'S-2', 'digging')",
		"INSERT INTO gpkg_contents VALUES ('work', 'attributes', 'work', 0), ('ogr_empty_table', 'features', '', 0)",
		"CREATE TABLE ogr_empty_table (fid INTEGER PRIMARY KEY, geom BLOB)", "INSERT INTO gpkg_geometry_columns VALUES ('ogr_empty_table', 'geom', 'GEOMETRY', 0, 0, 0)",
	}
	alone := append(work[:len(work):len(work)], "DELETE FROM gpkg_contents WHERE table_name = 'finds'")
	without := append(alone[:len(alone):len(alone)], "DROP TABLE gpkg_geometry_columns")
	for _, test := range []struct {
		name, layer string
		change      []string
	}{{"named", "work", work}, {"alone", "", alone}, {"no table of geometry columns", "WORK", without}} {
		s := testkit.Source("f.gpkg", bytes.NewReader(layers.GeoPackage(t, test.change...)))
		s.Layer = test.layer
		got, findings, err := ReadTreatments(s, testOptions())
		if err != nil || got.Read != 2 || got.Rejected != 0 || len(got.Actions) != 2 || got.Actions[1].StandID != "S-2" {
			t.Errorf("%s: %v, %+v, %v", test.name, err, got, findings)
		}
	}
	p, _, err := ReadPoints(testkit.Source("f.gpkg", bytes.NewReader(layers.GeoPackage(t, work...))), testOptions())
	if err != nil || p.Read != 2 {
		t.Errorf("the layer beside the table: %v, %d read", err, p.Read)
	}
	s := testkit.Source("f.gpkg:nothing", bytes.NewReader(layers.GeoPackage(t, work...)))
	s.Layer = "nothing"
	if _, _, err := ReadPoints(s, testOptions()); err == nil || !strings.Contains(err.Error(), "it has finds, work") {
		t.Errorf("a layer that is not there: %v", err)
	}
}

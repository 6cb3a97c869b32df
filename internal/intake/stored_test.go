package intake

import (
	"os"
	"path/filepath"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/survey"
)

// TestStoredFiles reads files written by GDAL from one survey (its version is given beside them;
// scripts/oracle_formats.sh), so that GDAL need not be installed.
func TestStoredFiles(t *testing.T) {
	folder := filepath.Join("..", "..", "testdata", "intake")
	text, err := os.ReadFile(filepath.Join(folder, "points.geojson"))
	if err != nil {
		t.Fatal(err)
	}
	want, _, _ := readPoints(t, string(text), testOptions())
	if len(want) != 20 {
		t.Fatalf("%d records to compare with", len(want))
	}
	for name, format := range map[string]string{
		"feet.gpkg": "GeoPackage", "feet.shp": "Shapefile", "zipped.shz": "Shapefile", "text.csv": "CSV", "map.kml": "KML", "map.kmz": "KML", "waypoints.gpx": "GPX",
	} {
		t.Run(name, func(t *testing.T) {
			o := testOptions()
			if format == "Shapefile" {
				o.Mapping.Columns = single(cutNames)
			}
			p, findings, err := ReadPoints(onDisk(filepath.Join(folder, name), ""), o)
			if err != nil || p.Format != format || p.Read != 20 {
				t.Fatalf("%v: %s, %d read", err, p.Format, p.Read)
			}
			if n := check.Count(findings, check.Error) + check.Count(findings, check.Warning); n > 0 {
				t.Errorf("%d troubles: %v", n, findings)
			}
			got := survey.Examine(p.Records, survey.DefaultOptions(quarter)).Records
			samePoints(t, want, got)
		})
	}
}

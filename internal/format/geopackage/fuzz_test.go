package geopackage_test

import (
	"testing"

	"driftreach/internal/testkit/layers"
)

// FuzzGeoPackage reads anything that begins as a database does.
func FuzzGeoPackage(f *testing.F) {
	layers.Fuzz(f, "GeoPackage", "SQLite format 3\x00", layers.GeoPackage(f),
		layers.GeoPackage(f, "CREATE VIEW v AS SELECT * FROM gpkg_contents", "UPDATE gpkg_contents SET srs_id = 32718"),
		layers.GeoPackage(f, "DELETE FROM gpkg_geometry_columns"))
}

package archive_test

import (
	"testing"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// FuzzArchive reads any archive.
func FuzzArchive(f *testing.F) {
	layers.Fuzz(f, "archive", "PK\x03\x04", append(testkit.Stored(f, "handed-in/*.xlsx"),
		layers.Zip(f, "a.csv", []byte("occurrenceID,lon,lat\na,1,2\n")), layers.Zip(f, "a.gpkg", layers.GeoPackage(f)))...)
}

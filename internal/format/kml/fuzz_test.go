package kml_test

import (
	"testing"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// FuzzKML reads any text, most of which begins as KML does.
func FuzzKML(f *testing.F) {
	layers.FuzzText(f, "KML", append(testkit.Stored(f, "handed-in/*.kml"),
		[]byte(`<kml><Placemark><MultiGeometry><Point><coordinates>1,2</coordinates></Point><Track><coord>1 2 3</coord></Track></MultiGeometry></Placemark></kml>`))...)
}

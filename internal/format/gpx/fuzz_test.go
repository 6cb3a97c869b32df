package gpx_test

import (
	"testing"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// FuzzGPX reads any text, most of which begins as GPX does.
func FuzzGPX(f *testing.F) {
	layers.FuzzText(f, "GPX", append(testkit.Stored(f, "handed-in/*.gpx"),
		[]byte(`<gpx><wpt lat="1" lon="2"/><trk><name>t</name><trkseg><trkpt lat="1" lon="2"><time>2026-07-01T10:00:00Z</time></trkpt></trkseg></trk></gpx>`))...)
}

// Package quarter computes a quarter from texts in memory, for tests of the result.
package quarter

import (
	"bytes"
	"context"
	"testing"

	"driftreach/internal/batch"
	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// Of returns the inputs of a quarter of points, as CSV, and centerlines, as GeoJSON.
func Of(q survey.Quarter, points, streams []byte) observed.Inputs {
	read := func(name string, text []byte) observed.Files {
		return observed.Files{Sources: []format.Source{testkit.Source(name, bytes.NewReader(text))}}
	}
	return observed.Inputs{Quarter: q, Of: map[string]observed.Files{"points": read("points.csv", points), "streams": read("streams.geojson", streams)}}
}

// Answer reads and computes the first quarter of a chain.
func Answer(t testing.TB, in observed.Inputs, s settings.Settings) *result.Run {
	t.Helper()
	read, err := observed.Read(context.Background(), in, s, host.Host{})
	if err != nil {
		t.Fatal(err)
	}
	run, err := batch.Compute(context.Background(), read, s, host.Host{})
	if err != nil {
		t.Fatal(err)
	}
	return run
}

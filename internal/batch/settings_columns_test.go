package batch

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/intake"
)

// The columns that the settings may map are those that reading understands: a
// file with all of them has each understood as itself.
func TestColumnsOfTheSettingsAreThoseOfReading(t *testing.T) {
	text := strings.Join(pointFields, ",") + "\n" + strings.Repeat(",", len(pointFields)-1) + "\n"
	points, _, err := intake.ReadPoints(intake.FromReader("points.csv", strings.NewReader(text)), intake.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(slices.Sorted(slices.Values(pointFields)), fields(points.Columns)); diff != "" {
		t.Errorf("points (-settings +reading):\n%s", diff)
	}
	line := `{"type":"Feature","properties":{"` + strings.Join(streamFields, `":"1","`) +
		`":"1"},"geometry":{"type":"LineString","coordinates":[[0,0],[0,1]]}}`
	streams, _, err := intake.ReadStreams(intake.FromReader("streams.geojson", strings.NewReader(line)), intake.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(slices.Sorted(slices.Values(streamFields)), fields(streams.Columns)); diff != "" {
		t.Errorf("streams (-settings +reading):\n%s", diff)
	}
}

func fields(understood []intake.Understood) []string {
	var names []string
	for _, u := range understood {
		names = append(names, u.Field)
	}
	slices.Sort(names)
	return names
}

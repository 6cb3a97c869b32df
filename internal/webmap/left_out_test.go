package webmap

import (
	"slices"
	"strings"
	"testing"

	"driftreach/internal/mapfile"
	"driftreach/internal/result"
)

// TestRecordsLeftOutAreTold: a page without its survey points says so first; one with them
// says nothing of it.
func TestRecordsLeftOutAreTold(t *testing.T) {
	run := small("a")
	if said := (&gatherer{run: run}).cautions(); !slices.Equal(said, result.PageCautions(run)) {
		t.Errorf("%q", said)
	}
	run.Records.Listed = slices.Repeat(run.Records.Listed, mapfile.MostRecords+1)
	var b strings.Builder
	if err := Write(&b, run); err != nil {
		t.Fatal(err)
	}
	if d := dataOf(t, b.String()); len(d.Points) != 0 || !strings.Contains(b.String(), `"The 20001 survey points are not on this map: points.zip has them."`) {
		t.Errorf("%d points, and nothing says that they are left out", len(d.Points))
	}
}

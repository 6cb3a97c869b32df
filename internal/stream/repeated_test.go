package stream

import (
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/linear"
	"driftreach/internal/check"
)

// TestRepeatedVerticesAreCounted: of five vertices at two places three repeat the one before them.
func TestRepeatedVerticesAreCounted(t *testing.T) {
	_, findings := Check([]Centerline{line("a", 1, orb.Point{1, 2}, orb.Point{1, 2}, orb.Point{3, 4}, orb.Point{3, 4}, orb.Point{3, 4})}, Options{})
	if len(findings) != 1 || findings[0].Message != "3 vertices repeat the one before them; they were dropped" {
		t.Errorf("%+v", findings)
	}
}

// TestEdgesWithoutWater: an edge has no surface where there is none, and an edge without a path neither.
func TestEdgesWithoutWater(t *testing.T) {
	n := &Network{Paths: linear.LinesOf([]orb.LineString{{}, {{1, 2}, {1, 3}}, nil})}
	if findings := n.setSurfaces(nil, nil); len(findings) > 0 || len(n.On) != 3 || n.On[0] != -1 || n.On[1] != -1 || n.On[2] != -1 {
		t.Errorf("%v, %v", n.On, findings)
	}
}

// TestBarriersAtOnePlace: a barrier within a metre along the line of one that stands is the same; one
// farther on, or of another line, is not.
func TestBarriersAtOnePlace(t *testing.T) {
	var log check.Log
	all := []Structure{{ID: "a", Line: 0, Measure: 100}, {ID: "b", Line: 0, Measure: 101}, {ID: "c", Line: 0, Measure: 101.01}, {ID: "d", Line: 1, Measure: 100}, {ID: "e", Line: 0, Measure: 99}, {ID: "f", Line: 0, Measure: 98.99}, {ID: "g", Line: 0, Measure: 100.2}}
	var kept string
	for _, s := range apart(all, &log) {
		kept += s.ID
	}
	if kept != "acdf" {
		t.Errorf("kept %s", kept)
	}
	for i, want := range []string{"a", "a", "a"} {
		if f := log.Findings()[i]; f.Message != "barrier "+want+" stands at the same place; this one was rejected" {
			t.Errorf("%+v", f)
		}
	}
}

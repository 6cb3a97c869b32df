package flow

import (
	"testing"

	"github.com/paulmach/orb"
)

// TestMeasures: an edge from 100 m to 300 m of its line, with a recorded length of 400 m: 100 m
// below its upper end are 50 m of the line, for flow in either direction. By hand.
func TestMeasures(t *testing.T) {
	e := Edge{Start: 100, End: 300, Length: 400, OutletKm: 7}
	near(t, "along", float64(e.Measure(100)), 150, 1e-12)
	e.Flipped = true
	near(t, "against", float64(e.Measure(100)), 250, 1e-12)
	near(t, "river km", e.RiverKm(100), 7.3, 1e-12)
	e.Length = 0
	near(t, "without length", float64(e.Measure(0)), 300, 0)
}

// TestNoLines: no lines make an empty network, and a line that was left out has no place.
func TestNoLines(t *testing.T) {
	n, troubles := Build(nil, DefaultOptions())
	if len(n.Edges) != 0 || len(n.Nodes) != 0 || n.Components != 0 || len(troubles) != 0 {
		t.Errorf("%+v, %v", n, troubles)
	}
	n, _ = Build([]Line{plain("a", orb.Point{1, 1}, orb.Point{1, 1})}, DefaultOptions())
	if at := n.At(0, 5); at.Edge != -1 || n.LineLength(0) != 0 {
		t.Errorf("%+v, length %v", at, n.LineLength(0))
	}
}

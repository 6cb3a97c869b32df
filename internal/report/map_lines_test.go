package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// TestSnapToACoarserGrid: to the nearest step, halves away from 0, on both sides of 0.
func TestSnapToACoarserGrid(t *testing.T) {
	tr := newTracer(&view{})
	for _, c := range []struct {
		step     int32
		at, want dot
	}{
		{1, dot{-5, 7}, dot{-5, 7}},
		{4, dot{-5, 5}, dot{-4, 4}}, {4, dot{-6, 6}, dot{-8, 8}}, {4, dot{-1, 1}, dot{0, 0}}, {4, dot{0, -8}, dot{0, -8}},
	} {
		if got := tr.snap(c.at, c.step); got != c.want {
			t.Errorf("%v in steps of %d: %v, want %v", c.at, c.step, got, c.want)
		}
	}
}

func compareDots(a, b dot) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y)) }

// bars returns the bars drawn at barriers: the middle of each, and the way from one end to the other.
func bars(t *testing.T, m *mapDrawing) (middles, ways []dot) {
	t.Helper()
	_, after, _ := strings.Cut(string(m.b), `<path class="barrier" d="`)
	data, _, _ := strings.Cut(after, `"`)
	for bar := range strings.SplitSeq(strings.TrimPrefix(data, "M"), "M") {
		var a, way dot
		if _, err := fmt.Sscanf(strings.NewReplacer("l", " ", "-", " -").Replace(bar), "%d %d %d %d", &a.x, &a.y, &way.x, &way.y); err != nil {
			t.Fatalf("%q: %v", bar, err)
		}
		middles, ways = append(middles, dot{a.x + way.x/2, a.y + way.y/2}), append(ways, way)
	}
	return middles, ways
}

// TestBarsAtBarriers: a bar 12 pixels long stands across the stream at the end of each line that has a
// barrier and of no other, its ground is taken for texts, two of one place are one bar, a barrier off
// the map has none, and the first 300 are drawn.
func TestBarsAtBarriers(t *testing.T) {
	run := invented(9, 1, []string{"Side Water"})
	var ends []dot
	view := newView(run, 700)
	for i := range run.Centerlines {
		path := run.Centerlines[i].Path
		if i%3 == 1 {
			run.Centerlines[i].Barrier = stream.NoBarrier
		} else {
			ends = append(ends, view.at(path[len(path)-1]))
		}
	}
	twin, far := run.Centerlines[0], run.Centerlines[0]
	end := twin.Path[len(twin.Path)-1]
	twin.ID, twin.Path = "twin", orb.LineString{{end[0], end[1] + 0.002}, end} // from the north to the same end
	far.ID, far.Path = "far", orb.LineString{{25, 10}, {25.01, 10}}
	short := far // of two points
	short.ID, short.Path = "short", orb.LineString{{20.001, 10.006}, {20.005, 10.006}}
	ends = append(ends, view.at(short.Path[1]))
	run.Network, _ = stream.Connect(append(run.Centerlines, twin, far, short), nil, nil, flow.Options{})
	m := &mapDrawing{view: view}
	m.drawBarriers(run.Network)
	middles, ways := bars(t, m)
	if !slices.Equal(slices.SortedFunc(slices.Values(middles), compareDots), slices.SortedFunc(slices.Values(ends), compareDots)) || len(m.taken) != len(ends) {
		t.Errorf("bars at %v and %d of their places taken, want %v", middles, len(m.taken), ends)
	}
	for k, way := range ways {
		if long := math.Hypot(float64(way.x), float64(way.y)); math.Abs(long-12*perPixel) > 2 || m.taken[k] != around(middles[k], 6*perPixel, 6*perPixel) {
			t.Errorf("a bar of %v steps, with %v taken", long, m.taken[k])
		}
		// the lines run east, and the last step of their waves rises by less than half its width: bars run north
		if math.Abs(float64(way.x)) > 0.5*math.Abs(float64(way.y)) {
			t.Errorf("a bar along %v", way)
		}
	}
	many := invented(301, 1, []string{"Side Water"})
	m = &mapDrawing{view: newView(many, 7000)}
	m.drawBarriers(many.Network)
	if middles, _ := bars(t, m); len(middles) != 300 {
		t.Errorf("%d bars, want 300", len(middles))
	}
	m = &mapDrawing{view: view}
	if m.drawBarriers(nil); len(m.b) != 0 {
		t.Errorf("without streams: %s", m.b)
	}
}

// TestBarsOnBends: the bar stands across the stream where it is, not across the chord of its line; by hand,
// lines that come from the west or the south and end southward. A last step of a tenth of a pixel says nothing.
func TestBarsOnBends(t *testing.T) {
	view := newView(invented(9, 1, []string{"Side Water"}), 700)
	for name, path := range map[string]orb.LineString{
		"a bend":                 {{20.001, 10.012}, {20.02, 10.012}, {20.02, 10.002}},
		"a hairpin":              {{20.001, 10.002}, {20.001, 10.012}, {20.02, 10.012}, {20.02, 10.002}},
		"a last step to a side":  {{20.001, 10.012}, {20.02, 10.012}, {20.02, 10.002}, {20.020003, 10.002}},
		"shorter than the bar":   {{20.02, 10.0021}, {20.02, 10.002}},
		"straight, of two steps": {{20.02, 10.02}, {20.02, 10.01}, {20.02, 10.002}},
	} {
		lines := []stream.Centerline{{ID: "a", Path: path, Order: 1, Barrier: stream.Weir, BarrierPass: 0.5}}
		run := invented(1, 1, []string{"Side Water"})
		run.Network, _ = stream.Connect(lines, nil, nil, flow.Options{})
		m := &mapDrawing{view: view}
		m.drawBarriers(run.Network)
		if _, ways := bars(t, m); len(ways) != 1 || math.Abs(float64(ways[0].y)) > 0.05*math.Abs(float64(ways[0].x)) {
			t.Errorf("%s: bars along %v, want one from west to east", name, ways)
		}
	}
}

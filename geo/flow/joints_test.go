package flow

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// meridian is a line down a meridian: every hundredth of a degree is 1.1 km.
func meridian(name string, lats ...float64) Line {
	l := plain(name)
	for _, lat := range lats {
		l.Path = append(l.Path, orb.Point{10, lat})
	}
	return l
}

// stoppedEdges writes each edge as line, start and end in whole metres, and the obstacle at its
// lower end.
func stoppedEdges(n *Network, lines []Line) string {
	out := ""
	for i := range n.Edges {
		e := &n.Edges[i]
		out += fmt.Sprintf("%s %.0f-%.0f %d; ", lines[e.Line].Name, float64(e.Start), float64(e.End), n.Stopped(int32(i)))
	}
	return out
}

// TestStops: where a stop splits a line, and where it is placed at an existing node; by hand. A
// line from 0 to -0.01 degrees is 1105.7 m long (the meridian's radius at the equator, 6335439 m,
// times the angle).
func TestStops(t *testing.T) {
	a, b := meridian("a", 0, -0.01), meridian("b", -0.01, -0.02)
	side := plain("s")
	side.Path = orb.LineString{{10.01, -0.005}, {10, -0.005}} // ends on the middle of a
	for _, c := range []struct {
		name  string
		lines []Line
		stops map[int][]Stop
		want  string
	}{
		{"none", []Line{a, b}, nil, "a 0-1106 0; b 0-1106 0; "},
		{"middle", []Line{a, b}, map[int][]Stop{0: {{400, 1}}}, "a 0-400 1; a 400-1106 0; b 0-1106 0; "},
		{"two", []Line{a, b}, map[int][]Stop{0: {{700, 1}, {400, 2}}}, "a 0-400 2; a 400-700 1; a 700-1106 0; b 0-1106 0; "},
		{"two within the snap distance", []Line{a, b}, map[int][]Stop{0: {{400, 2}, {400.5, 1}}}, "a 0-400 1; a 400-1106 0; b 0-1106 0; "},
		{"end", []Line{a, b}, map[int][]Stop{0: {{1105.2, 1}}}, "a 0-1106 1; b 0-1106 0; "},
		{"beyond the end", []Line{a, b}, map[int][]Stop{0: {{5000, 1}}}, "a 0-1106 1; b 0-1106 0; "},
		{"start of the next is the end of the one before", []Line{a, b}, map[int][]Stop{1: {{0.3, 1}}}, "a 0-1106 1; b 0-1106 0; "},
		{"start of the first stands in nothing's way", []Line{a, b}, map[int][]Stop{0: {{0, 1}}}, "a 0-1106 0; b 0-1106 0; "},
		{"at a junction, in the way of both", []Line{a, b, side}, map[int][]Stop{0: {{552.9, 1}}}, "a 0-553 1; s 0-1113 1; a 553-1106 0; b 0-1106 0; "},
		{"above a junction, in the way of one", []Line{a, b, side}, map[int][]Stop{0: {{500, 1}}}, "a 0-500 1; s 0-1113 0; a 500-553 0; a 553-1106 0; b 0-1106 0; "},
	} {
		lines := slices.Clone(c.lines)
		for i, stops := range c.stops {
			lines[i].Along = &Along{Stops: stops}
		}
		n, _ := Build(lines, DefaultOptions())
		if got := stoppedEdges(n, lines); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestStopsOfNamedLines: where names make the topology, stops split the lines too, in either
// direction of flow.
func TestStopsOfNamedLines(t *testing.T) {
	a := meridian("a", 0, -0.01)
	for _, c := range []struct{ from, to, want string }{
		{"1", "2", "a 0-400 1; a 400-1106 0; "},
		{"2", "1", "a 0-400 1; a 400-1106 0; "},
	} {
		a.From, a.To = c.from, c.to
		a.Along = &Along{Stops: []Stop{{400, 1}}}
		n, _ := Build([]Line{a}, DefaultOptions())
		if got := stoppedEdges(n, []Line{a}); got != c.want {
			t.Errorf("%s to %s: %s, want %s", c.from, c.to, got, c.want)
		}
	}
	// a reversed line: the piece above the stop, in flow direction, is the digitised end
	b := meridian("b", -0.01, -0.02)
	b.From, b.To = "2", "3"
	turned := meridian("a", -0.01, 0)
	turned.From, turned.To, turned.Along = "1", "2", &Along{Stops: []Stop{{400, 1}}}
	lines := []Line{turned, b}
	n, _ := Build(lines, DefaultOptions())
	if got, want := stoppedEdges(n, lines), "a 400-1106 1; a 0-400 0; b 0-1106 0; "; got != want {
		t.Errorf("turned: %s, want %s", got, want)
	}
}

// TestStopNodePlace: the node of a stop is on the line, at the stop's measure.
func TestStopNodePlace(t *testing.T) {
	a := plain("a")
	a.Path = orb.LineString{{179.99, 0}, {180, -0.01}, {-179.98, -0.01}}
	length := earth.LineLength(a.Path)
	for _, share := range []float64{0.2, 0.5, 0.9} {
		a.Along = &Along{Stops: []Stop{{length * geo.Meters(share), 1}}}
		n, _ := Build([]Line{a}, DefaultOptions())
		at := n.Nodes[n.Edges[0].To].At
		d := math.Inf(1)
		for i := range len(a.Path) - 1 {
			p, q := a.Path[i], a.Path[i+1]
			_, along := geo.SegmentDistance(orb.Point{}, orb.Point{earth.Wrap(p[0] - at[0]), p[1] - at[1]}, orb.Point{earth.Wrap(q[0] - at[0]), q[1] - at[1]})
			near := orb.Point{p[0] + along*earth.Wrap(q[0]-p[0]), p[1] + along*(q[1]-p[1])}
			d = min(d, float64(earth.Distance(at, near)))
		}
		if d > 0.01 || math.Abs(float64(n.Edges[0].Length-length*geo.Meters(share))) > 0.01 {
			t.Errorf("%g: node %v is %g m aside, edge of %g m", share, at, d, float64(n.Edges[0].Length))
		}
	}
}

// TestStopsChangeNoTotals: stops anywhere leave lengths, order, river kilometres and the amount at
// the outlet unchanged, in any order of the lines.
func TestStopsChangeNoTotals(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		// a braid with a side stream: a divides into b and c, which meet and continue as d
		lines := []Line{meridian("a", 0, -0.01), meridian("b", -0.01, -0.02), plain("c"), meridian("d", -0.02, -0.03), plain("e")}
		lines[2].Path = orb.LineString{{10, -0.01}, {10.005, -0.015}, {10, -0.02}}
		lines[4].Path = orb.LineString{{10.01, -0.025}, {10, -0.025}}
		bare, _ := Build(lines, DefaultOptions())
		number := int32(0)
		for i := range lines {
			lines[i].Along = new(Along)
			for range rapid.IntRange(0, 3).Draw(r, "stops") {
				number++
				at := rapid.Float64Range(-10, 2300).Draw(r, "at")
				lines[i].Along.Stops = append(lines[i].Along.Stops, Stop{geo.Meters(at), number})
			}
		}
		n, _ := Build(lines, DefaultOptions())
		for l := range lines {
			before, after := bare.EdgesOf(int32(l)), n.EdgesOf(int32(l))
			sum := func(n *Network, edges []int32) (length float64) {
				for _, e := range edges {
					length += float64(n.Edges[e].Length)
				}
				return length
			}
			top, bottom := &n.Edges[after[0]], &n.Edges[after[len(after)-1]]
			old := &bare.Edges[before[len(before)-1]]
			if math.Abs(sum(bare, before)-sum(n, after)) > 1e-6 || top.Order != bare.Edges[before[0]].Order ||
				math.Abs(float64(bottom.OutletKm-old.OutletKm)) > 1e-9 || math.Abs(float64(bottom.UpstreamKm-old.UpstreamKm)) > 1e-9 {
				r.Fatalf("line %s: %+v, without stops %+v", lines[l].Name, bottom, old)
			}
		}
		again := rapid.Permutation(lines).Draw(r, "again")
		other, _ := Build(again, DefaultOptions())
		if a, b := stoppedEdges(n, lines), stoppedEdges(other, again); a != b {
			r.Fatalf("%s\n%s", a, b)
		}
	})
}

// TestSplits: where a split makes a new edge, and where a node is near enough; by hand, on the
// lines of TestStops. Without a snap distance, a centimetre is near enough.
func TestSplits(t *testing.T) {
	a, b := meridian("a", 0, -0.01), meridian("b", -0.01, -0.02)
	side := plain("s")
	side.Path = orb.LineString{{10.01, -0.005}, {10, -0.005}}
	whole := "a 0-1106 0; b 0-1106 0; "
	for _, c := range []struct {
		name   string
		lines  []Line
		snap   geo.Meters
		splits []geo.Meters
		want   string
	}{
		{"middle", []Line{a, b}, 1, []geo.Meters{400}, "a 0-400 0; a 400-1106 0; b 0-1106 0; "},
		{"two", []Line{a, b}, 1, []geo.Meters{700, 400}, "a 0-400 0; a 400-700 0; a 700-1106 0; b 0-1106 0; "},
		{"two within the snap distance", []Line{a, b}, 1, []geo.Meters{400, 400.9}, "a 0-400 0; a 400-1106 0; b 0-1106 0; "},
		{"two within it, the lower first", []Line{a, b}, 1, []geo.Meters{400.9, 400}, "a 0-401 0; a 401-1106 0; b 0-1106 0; "},
		{"start", []Line{a, b}, 1, []geo.Meters{1}, whole}, {"end", []Line{a, b}, 1, []geo.Meters{1105.2}, whole},
		{"beyond the ends", []Line{a, b}, 1, []geo.Meters{-20, 5000}, whole},
		{"at a junction", []Line{a, b, side}, 1, []geo.Meters{552.9}, "a 0-553 0; s 0-1113 0; a 553-1106 0; b 0-1106 0; "},
		{"a centimetre apart", []Line{a, b}, 0, []geo.Meters{400, 400.009, 0.009}, "a 0-400 0; a 400-1106 0; b 0-1106 0; "},
		{"two centimetres apart", []Line{a, b}, 0, []geo.Meters{400, 400.02}, "a 0-400 0; a 400-400 0; a 400-1106 0; b 0-1106 0; "},
	} {
		lines := slices.Clone(c.lines)
		lines[0].Along = &Along{Splits: c.splits}
		n, _ := Build(lines, Options{Snap: c.snap})
		if got := stoppedEdges(n, lines); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	if end := placeAt(a.Path, 5000); end != a.Path[1] {
		t.Errorf("beyond the end of a path: %v", end)
	}
}

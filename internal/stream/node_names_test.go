package stream

import (
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/flow"
	"driftreach/internal/check"
)

// TestCheckNodes: which names are kept; by hand.
func TestCheckNodes(t *testing.T) {
	open, ring := orb.LineString{{1, 2}, {3, 4}}, orb.LineString{{1, 1}, {2, 1}, {2, 2}, {1, 1}}
	for _, c := range []struct {
		name             string
		path             orb.LineString
		from, to         string
		wantFrom, wantTo string
		told             string
	}{
		{"two names", open, "7", "8", "7", "8", ""},
		{"none", open, "", "", "", "", ""},
		{"one name", open, "7", "", "7", "", ""},
		{"a value that fills in", open, "0", "0", "", "", "a node-same"},
		{"a ring", ring, "7", "7", "7", "7", "a line-closed"},
	} {
		l := line("a", 1, c.path...)
		l.FromNode, l.ToNode = c.from, c.to
		lines, findings := Check([]Centerline{l}, Options{})
		if got := lines[0]; got.FromNode != c.wantFrom || got.ToNode != c.wantTo || told(findings) != c.told {
			t.Errorf("%s: %q, %q, %s", c.name, got.FromNode, got.ToNode, told(findings))
		}
	}
}

// TestFilledNodesDoNotJoin: three lines end to end, all with node 0 at both ends, and one far away:
// they are one stream of 3 lines and a separate one, not a ring of four. Order of the outlet's line
// by hand.
func TestFilledNodesDoNotJoin(t *testing.T) {
	var lines []Centerline
	for i, x := range []float64{0, 0.01, 0.02, 5} {
		l := line(string(rune('a'+i)), i+1, orb.Point{x, 10}, orb.Point{x + 0.01, 10})
		l.FromNode, l.ToNode = "0", "0"
		lines = append(lines, l)
	}
	lines, findings := Check(lines, Options{})
	if check.Count(findings, check.Warning) != 4 {
		t.Errorf("%s", told(findings))
	}
	net, findings := Connect(lines, nil, nil, flow.Options{Snap: 1})
	if net.Net.Components != 2 || len(findings) != 0 {
		t.Errorf("%d components, %s", net.Net.Components, told(findings))
	}
	for e := range net.Net.Edges {
		edge := &net.Net.Edges[e]
		if above := map[int32]float64{0: 1, 1: 2, 2: 3, 3: 1}[edge.Line]; int(edge.UpstreamKm/edge.Length.Kilometers()+0.5) != int(above) {
			t.Errorf("line %d: %v km above", edge.Line, edge.UpstreamKm)
		}
	}
}

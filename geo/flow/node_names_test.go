package flow

import (
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// named sets the node names of a line.
func named(l Line, from, to string) Line {
	l.From, l.To = from, to
	return l
}

// TestOutletsWithoutNames: the last lines of two rivers have no name for the node below them. They
// are two outlets, and names still decide the rest: the stem, digitised upstream, flows as its
// nodes say. By hand.
func TestOutletsWithoutNames(t *testing.T) {
	for _, g := range grounds {
		lines := []Line{
			named(g.line("head", 0, 3000, 0, 2000), "1", "2"), named(g.line("stem", 0, 1000, 0, 2000), "2", "3"),
			named(g.line("last", 0, 1000, 0, 0), "3", ""),
			named(g.line("other", 5000, 3000, 5000, 0), "7", ""),
			named(g.line("third", 5001, 3000, 5000, 0), "8", ""), // ends where the other does
		}
		n, troubles := Build(lines, DefaultOptions())
		if !slices.Equal(kinds(troubles), []string{ReversedDirection}) || n.Components != 3 {
			t.Fatalf("%s: %d parts, %v", g.name, n.Components, troubles)
		}
		for name, km := range map[string]float64{"head": 2, "stem": 1, "last": 0, "other": 0, "third": 0} {
			if got := float64(n.Edges[edgeNamed(n, lines, name)].OutletKm); got < km*0.999 || got > km*1.001+1e-12 {
				t.Errorf("%s: %s ends at river km %g, want about %g", g.name, name, got, km)
			}
		}
	}
}

// TestLooseEnds: where the unnamed end of a line with one named end belongs. By hand.
func TestLooseEnds(t *testing.T) {
	g := grounds[3]
	for _, c := range []struct {
		name  string
		lines []Line
		down  map[string]string // line below each line
		kinds string
	}{
		{"at the very place of a node", []Line{
			named(g.line("a", 0, 900, 0, 600), "1", ""), named(g.line("b", 0, 600, 0, 300), "2", "3"), named(g.line("c", 0, 300, 0, 0), "", "4"),
		}, map[string]string{"a": "b", "b": "c", "c": ""}, ""},
		{"digitised against its only name", []Line{
			named(g.line("a", 0, 900, 0, 600), "1", "2"), named(g.line("b", 300, 900, 0, 900), "0", "1"), named(g.line("c", 0, 0, 0, 600), "2", ""),
		}, map[string]string{"b": "a", "a": "c", "c": ""}, ReversedDirection},
		{"a head without a name", []Line{
			named(g.line("a", 0, 900, 0, 600), "", "2"), named(g.line("b", 0, 600, 0, 300), "2", "3"),
		}, map[string]string{"a": "b", "b": ""}, ""},
		{"a line without names in the part: positions decide", []Line{
			named(g.line("a", 0, 900, 0, 600), "1", "9"), named(g.line("b", 0, 600, 0, 300), "2", "3"), g.line("c", 0, 300, 0, 0),
		}, map[string]string{"a": "b", "b": "c", "c": ""}, NamesIncomplete},
		{"a head digitised upstream", []Line{
			named(g.line("a", 0, 600, 0, 900), "1", "2"), named(g.line("b", 0, 600, 0, 300), "2", "3"),
		}, map[string]string{"a": "b", "b": ""}, ReversedDirection},
		{"everything digitised upstream", []Line{
			named(g.line("a", 0, 600, 0, 900), "1", "2"), named(g.line("b", 0, 300, 0, 600), "2", "3"), named(g.line("c", 0, 0, 0, 300), "3", "4"),
		}, map[string]string{"a": "b", "b": "c", "c": ""}, ReversedDirection + " " + ReversedDirection + " " + ReversedDirection},
	} {
		t.Run(c.name, func(t *testing.T) {
			n, troubles := Build(c.lines, DefaultOptions())
			if got := strings.Join(kinds(troubles), " "); got != c.kinds {
				t.Errorf("troubles %s, want %s", got, c.kinds)
			}
			for from, want := range c.down {
				got := ""
				if d := n.Down(edgeNamed(n, c.lines, from)); d >= 0 {
					got = c.lines[n.Edges[d].Line].Name
				}
				if got != want {
					t.Errorf("below %s lies %q, want %q", from, got, want)
				}
			}
		})
	}
}

// TestNodesOfEndsWithoutNames: for lines with one name each, the node of the other end is at the
// end of the path, even for the very first line.
func TestNodesOfEndsWithoutNames(t *testing.T) {
	at := func(i int) orb.Point { return orb.Point{10 + 0.01*float64(i), 50} }
	lines := []Line{
		named(plain("head", at(0), at(1)), "", "1"), named(plain("low", at(1), at(2)), "1", ""), named(plain("apart", at(4), at(5)), "", "2"),
	}
	n, _ := Build(lines, DefaultOptions())
	if len(n.Edges) != 3 || len(n.Nodes) != 5 {
		t.Fatalf("%d edges, %d nodes: %+v", len(n.Edges), len(n.Nodes), n.Nodes)
	}
	for i, want := range [][2]orb.Point{{at(0), at(1)}, {at(1), at(2)}, {at(4), at(5)}} {
		e := n.Edges[n.EdgesOf(int32(i))[0]]
		if got := [2]orb.Point{n.Nodes[e.From].At, n.Nodes[e.To].At}; got != want {
			t.Errorf("%s goes from %v to %v, want %v", lines[i].Name, got[0], got[1], want)
		}
	}
}

// TestNodesWithoutAPlace: nodes of lines without a path are at (0, 0), never at NaN.
func TestNodesWithoutAPlace(t *testing.T) {
	n, _ := Build([]Line{byNode("a", "1", "2", 100), byNode("b", "2", "3", 50)}, DefaultOptions())
	if len(n.Nodes) != 3 {
		t.Fatalf("%+v", n.Nodes)
	}
	for i, node := range n.Nodes {
		if node.At != (orb.Point{}) {
			t.Errorf("node %d lies at %v", i, node.At)
		}
	}
}

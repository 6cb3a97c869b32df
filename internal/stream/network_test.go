package stream

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/check"
)

// TestNetworkFindings: the finding made from a trouble: its rule's code, the first line's file and
// id, the ids as value, position and both sentences; by hand.
func TestNetworkFindings(t *testing.T) {
	lines := make([]Centerline, 12)
	for i := range lines {
		lines[i] = line(fmt.Sprintf("l%02d", i), i+1, orb.Point{1, 2}, orb.Point{3, 4})
	}
	lines[3].File = "other.geojson"
	got := networkFindings(lines, []flow.Trouble{
		{Kind: flow.GapClosed, Lines: []int32{3, 5}, At: orb.Point{7, 8}, Message: "2 lines end", Repair: "joined"},
		{Kind: flow.AreaMissing, Lines: []int32{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}, Message: "m", Repair: "r"},
		{Kind: "never heard of", Message: "m", Repair: "r"},
	})
	if len(got) != 3 {
		t.Fatalf("%v", got)
	}
	unknown, many, gap := got[0], got[1], got[2]
	if gap.Rule.Code != "network-gap-closed" || gap.File != "other.geojson" || gap.Record != "l03" || gap.Value != "l03 l05" ||
		*gap.Position != (orb.Point{7, 8}) || gap.Message != "2 lines end; joined" || gap.Rule.Severity != check.Warning || gap.Rule.Remedy == "" {
		t.Errorf("%+v", gap)
	}
	if many.Record != "l00" || many.Value != "l00 l01 l02 l03 l04 l05 l06 l07" {
		t.Errorf("%+v", many)
	}
	if unknown.Rule.Code != "network-never heard of" || unknown.Rule.Severity != check.Warning || unknown.Rule.Remedy == "" || unknown.Record != "" {
		t.Errorf("%+v", unknown)
	}
}

// TestNetworkRules: sorted, a code and a remedy each, and one for every kind.
func TestNetworkRules(t *testing.T) {
	rules := NetworkRules()
	if len(rules) != len(networkRules) || !slices.IsSortedFunc(rules, func(a, b check.Rule) int { return strings.Compare(a.Code, b.Code) }) {
		t.Errorf("%v", rules)
	}
	for _, r := range rules {
		if !strings.HasPrefix(r.Code, "network-") || r.Remedy == "" || r.Severity == check.Error {
			t.Errorf("%+v", r)
		}
	}
}

// TestFoundByLine: each line lists the kinds of trouble it has, once and sorted.
func TestFoundByLine(t *testing.T) {
	got := found(3, []flow.Trouble{{Kind: "z", Lines: []int32{0, 2}}, {Kind: "a", Lines: []int32{2}}, {Kind: "z", Lines: []int32{2}}})
	if fmt.Sprint(got) != "[[z] [] [a z]]" {
		t.Errorf("%v", got)
	}
}

// TestConnectLays: a line split at a junction and reversed: its edges' paths run downstream, meet
// where the edges do and have the edges' lengths.
func TestConnectLays(t *testing.T) {
	for name, x := range map[string]float64{"greenwich": 0, "antimeridian": 179.995} {
		a := line("a", 1, orb.Point{x, -60}, orb.Point{earth.Wrap(x + 0.01), -60})
		b := line("b", 2, orb.Point{earth.Wrap(x + 0.03), -60}, orb.Point{earth.Wrap(x + 0.02), -60.001}, orb.Point{earth.Wrap(x + 0.01), -60})
		c := line("c", 3, orb.Point{earth.Wrap(x + 0.03), -60}, orb.Point{earth.Wrap(x + 0.05), -60})
		side := line("s", 4, orb.Point{earth.Wrap(x + 0.02), -60.1}, orb.Point{earth.Wrap(x + 0.02), -60.001})
		a.Sequence, b.Sequence, c.Sequence, side.Sequence, b.Order = 30, 20, 10, 25, 7
		n, findings := Connect([]Centerline{a, b, c, side}, nil, nil, flow.Options{Snap: 1})
		if told(findings) != "b network-opposed-direction; b network-t-junction; b network-order-differs" {
			t.Errorf("%s: %s", name, told(findings))
		}
		if n.Paths.Len() != 5 || strings.Join(n.Found[1], " ") != "opposed-direction t-junction" {
			t.Fatalf("%s: %d edges, %v", name, n.Paths.Len(), n.Found)
		}
		for e := range n.Paths.Len() {
			edge := n.Net.Edges[e]
			if d := earth.LineLength(n.Paths.At(e)) - (edge.End - edge.Start); math.Abs(float64(d)) > 1e-6 {
				t.Errorf("%s: edge %d is %g m longer drawn than said", name, e, d)
			}
			for _, down := range n.Net.Downstream(int32(e)) {
				end, start := n.Paths.At(e)[len(n.Paths.At(e))-1], n.Paths.At(int(down))[0]
				if d := earth.Distance(end, start); d > 1e-3 {
					t.Errorf("%s: edge %d ends %g m from where %d begins", name, e, d, down)
				}
			}
			if want := map[bool]int{true: 7, false: edge.Order}[edge.Line == 1]; n.Order[e] != want {
				t.Errorf("%s: edge %d of line %d has order %d, want %d", name, e, edge.Line, n.Order[e], want)
			}
		}
		if n.Lines[1].Path[0][0] != earth.Wrap(x+0.03) {
			t.Errorf("%s: the record itself was turned round", name)
		}
	}
}

// TestBarrierAt: a barrier is only at the end of its line's last edge.
func TestBarrierAt(t *testing.T) {
	a := line("a", 1, orb.Point{0, 60}, orb.Point{0, 59.99})
	a.Barrier, a.BarrierPass = Weir, 0.4
	n, _ := Connect([]Centerline{a, line("s", 2, orb.Point{1, 60}, orb.Point{0, 59.995}), line("z", 3, orb.Point{0, 59.99}, orb.Point{0, 59})}, nil, nil, flow.Options{Snap: 1})
	held := 0
	for e := range n.Net.Edges {
		kind, pass := n.BarrierAt(int32(e))
		if kind == Weir && pass == 0.4 {
			held++
			if at := n.Paths.At(e)[len(n.Paths.At(e))-1]; at != (orb.Point{0, 59.99}) {
				t.Errorf("the weir stands at %v", at)
			}
		} else if kind != NoBarrier || pass != 1 {
			t.Errorf("edge %d has %q, %g", e, kind, pass)
		}
	}
	if held != 1 {
		t.Errorf("%d weirs, want 1", held)
	}
}

// TestConnectNothing: no lines, no edges and no findings.
func TestConnectNothing(t *testing.T) {
	n, findings := Connect(nil, nil, nil, flow.Options{Snap: 1})
	if n.Paths.Len() != 0 || len(n.Net.Edges) != 0 || len(findings) != 0 {
		t.Errorf("%+v, %v", n, findings)
	}
}

// pathsOf returns the path of each edge.
func pathsOf(n *Network) (paths []orb.LineString) {
	for _, path := range n.Paths.All() {
		paths = append(paths, path)
	}
	return paths
}

// TestConnectOrderOfRecords: shuffled lines give the same edges and findings.
func TestConnectOrderOfRecords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spot := rapid.Custom(func(t *rapid.T) orb.Point {
			return orb.Point{float64(rapid.IntRange(0, 3).Draw(t, "x")) * 0.01, 50 + float64(rapid.IntRange(0, 3).Draw(t, "y"))*0.01}
		})
		var lines []Centerline
		for i := range rapid.IntRange(1, 8).Draw(t, "lines") {
			from, to := spot.Draw(t, "from"), spot.Draw(t, "to")
			if from != to {
				lines = append(lines, line(fmt.Sprint("l", i), i+1, from, to))
			}
		}
		other := rapid.Permutation(slices.Clone(lines)).Draw(t, "shuffled")
		a, first := Connect(lines, nil, nil, flow.Options{Snap: 1})
		b, second := Connect(other, nil, nil, flow.Options{Snap: 1})
		if x, y := fmt.Sprint(told(first), pathsOf(a), a.Order), fmt.Sprint(told(second), pathsOf(b), b.Order); x != y {
			t.Fatalf("%s\n%s", x, y)
		}
	})
}

// TestDisagreements: recorded order, length and drainage against the computed ones, by hand: two
// lines of 1.1 km meet and continue as a third.
func TestDisagreements(t *testing.T) {
	lines := []Centerline{
		line("a", 1, orb.Point{0, 0.02}, orb.Point{0, 0.01}), line("b", 2, orb.Point{0.01, 0.02}, orb.Point{0, 0.01}),
		line("c", 3, orb.Point{0, 0.01}, orb.Point{0, 0}),
	}
	for i := range lines {
		lines[i].LocalArea = 2
	}
	sound := func(lines []Centerline) {
		lines[0].Order, lines[1].Order, lines[2].Order = 1, 1, 2
		lines[0].Length, lines[2].Length, lines[2].Drainage = 1105, 1106, 6
	}
	for _, c := range []struct {
		name   string
		change func(lines []Centerline)
		told   string
	}{
		{"sound", func([]Centerline) {}, ""},
		{"streams above left out", func(l []Centerline) { l[2].Order = 5 }, "c network-order-differs: the recorded stream_order disagrees with the computed one on 1 of 3 lines, most on line c: 5 recorded, 2 computed"},
		{"line cut", func(l []Centerline) { l[0].Length = 4000 }, "a network-length-differs: the recorded length_km disagrees with the computed one on 1 of 2 lines, most on line a: 4 km recorded, 1.106 km computed"},
		{"catchments left out", func(l []Centerline) { l[2].Drainage = 60 }, "c network-drainage-differs: the recorded drainage_km2 disagrees with the computed one on 1 of 1 lines, most on line c: 60 km2 recorded, 6 km2 computed"},
	} {
		sound(lines)
		c.change(lines)
		_, findings := Connect(lines, nil, nil, flow.Options{Snap: 1})
		var told []string
		for _, f := range findings {
			told = append(told, f.Record+" "+f.Rule.Code+": "+f.Message)
		}
		if strings.Join(told, "; ") != c.told {
			t.Errorf("%s: %s", c.name, told)
		}
	}
}

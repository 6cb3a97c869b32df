package flow

import (
	"fmt"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// shore returns a line that is a shore.
func (g ground) shore(name string, xy ...float64) Line {
	l := g.line(name, xy...)
	l.Shore = true
	return l
}

// TestShore: two rivers meet a coast, one at a vertex and one in the middle of a segment, plus a
// delta arm. The coast is not part of the network: rivers end there at river km 0, it joins and
// splits nothing, and neither a short river nor a second mouth is in doubt. By hand.
func TestShore(t *testing.T) {
	for _, g := range grounds {
		lines := []Line{
			g.shore("coast", -9000, 0, 0, 0, 9000, 0),
			g.line("big", 0, 60000, 0, 1000),
			g.line("mouth", 0, 1000, 0, 0),
			g.line("arm", 0, 1000, 2000, 0),
			g.line("small", -500, 400, -500, 0),
			g.shore("island", 20000, 0, 20400, 0, 20200, -300, 20000, 0),
		}
		n, troubles := Build(lines, DefaultOptions())
		if len(troubles) != 0 || len(n.Edges) != 4 || n.Components != 2 {
			t.Errorf("%s: %d edges in %d parts with %v, want 4 in 2 with none", g.name, len(n.Edges), n.Components, kinds(troubles))
		}
		for name, edges := range map[string]int{"coast": 0, "island": 0, "big": 1, "mouth": 1, "arm": 1, "small": 1} {
			if got := len(n.EdgesOf(int32(slices.IndexFunc(lines, func(l Line) bool { return l.Name == name })))); got != edges {
				t.Errorf("%s: %s has %d edges, want %d", g.name, name, got, edges)
			}
		}
		for _, name := range []string{"mouth", "arm", "small"} {
			if e := n.Edges[edgeNamed(n, lines, name)]; e.OutletKm != 0 || len(n.Downstream(edgeNamed(n, lines, name))) != 0 {
				t.Errorf("%s: %s ends at river km %g", g.name, name, e.OutletKm)
			}
		}
		lines[0].Shore, lines[5].Shore = false, false
		if _, troubles = Build(lines, DefaultOptions()); !slices.Contains(kinds(troubles), CycleCut) || !slices.Contains(kinds(troubles), TJunction) {
			t.Errorf("%s: taken for rivers the coasts give %v, want at least a cycle and a junction", g.name, kinds(troubles))
		}
	}
}

// TestShoreWithoutRivers: only a coast gives an empty network.
func TestShoreWithoutRivers(t *testing.T) {
	lines := []Line{grounds[0].shore("a", 0, 0, 100, 0), {Name: "b", Shore: true, Path: orb.LineString{{500, 0}}}}
	n, troubles := Build(lines, DefaultOptions())
	if len(n.Edges) != 0 || n.Components != 0 || len(troubles) != 0 {
		t.Errorf("%d edges, %v", len(n.Edges), troubles)
	}
}

// TestShoreFarAway: a mouth away from the coast is still in doubt; only mouths within the snap
// distance have arrived.
func TestShoreFarAway(t *testing.T) {
	g := grounds[2]
	for name, c := range map[string]struct {
		gap  float64
		told int
	}{"at the shore": {0, 0}, "within the snap distance": {0.9, 0}, "beyond it": {1.1, 1}, "far": {5000, 1}} {
		lines := []Line{
			g.shore("coast", -9000, 0, 9000, 0), g.line("big", 0, 60000, 0, 9000), g.line("mouth", 0, 9000, 0, 0),
			g.line("arm", 0, 9000, 40, c.gap),
		}
		_, troubles := Build(lines, DefaultOptions())
		if len(troubles) != c.told || c.told == 1 && troubles[0].Kind != LooseBranch {
			t.Errorf("%s: %v", name, troubles)
		}
	}
}

// TestShoreOfManyMouths: 40 rivers of two arms each meet a coast drawn in segments of 100 m. No
// second mouth is in doubt except one that ends 1.1 m from the coast.
func TestShoreOfManyMouths(t *testing.T) {
	const rivers = 40
	for _, g := range grounds {
		for _, off := range []float64{0, 1.1} {
			coast := []float64{-100, 0}
			var lines []Line
			for i := range rivers {
				x := 100 * float64(i)
				coast = append(coast, x, 0)
				arm := g.line(fmt.Sprintf("arm%02d", i), x, 300, x, 0)
				if i == 17 {
					arm = g.line("arm17", x, 300, x, off)
				}
				lines = append(lines, g.line(fmt.Sprintf("big%02d", i), x, 600, x, 300), g.line(fmt.Sprintf("mouth%02d", i), x, 300, x+60, 0), arm)
			}
			lines = append(lines, g.shore("coast", append(coast, 100*rivers, 0)...))
			n, troubles := Build(lines, DefaultOptions())
			if n.Components != rivers {
				t.Errorf("%s: %d parts", g.name, n.Components)
			}
			if off == 0 && len(troubles) > 0 || off > 0 && (len(troubles) != 1 || troubles[0].Kind != LooseBranch || lines[troubles[0].Lines[0]].Name != "arm17") {
				t.Errorf("%s, %g m off: %v", g.name, off, troubles)
			}
		}
	}
}

package flow

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// summary describes a network without the indices of its records: each edge by its line's name, and
// each trouble by the names of its lines.
func summary(lines []Line, o Options) string {
	n, troubles := Build(lines, o)
	var out []string
	for i := range n.Edges {
		e := &n.Edges[i]
		out = append(out, fmt.Sprintf("%s %.3f %.3f %v from %v to %v, part %d, order %d %d, share %.6f, %v, km %.6f %.6f", lines[e.Line].Name, float64(e.Start), float64(e.End), e.Flipped,
			n.Nodes[e.From].At, n.Nodes[e.To].At, e.Component, e.Order, e.Calc, e.Share, e.Minor, float64(e.OutletKm), float64(e.UpstreamKm)))
	}
	for _, x := range troubles {
		var names []string
		for _, l := range x.Lines {
			names = append(names, lines[l].Name)
		}
		out = append(out, fmt.Sprint(x.Kind, names, x.At, x.Message, x.Repair))
	}
	return strings.Join(out, "\n")
}

// tangle draws lines that cross, touch, fall short of each other and turn back.
func tangle(random *rand.Rand, count int) []Line {
	var lines []Line
	spots := make([]orb.Point, 12)
	for i := range spots {
		spots[i] = orb.Point{0.03 * random.Float64(), 0.03 * random.Float64()}
	}
	for i := range count {
		a, b := spots[random.IntN(len(spots))], spots[random.IntN(len(spots))]
		switch random.IntN(4) {
		case 0: // short by a few metres
			b[0] += 4e-5 * random.Float64()
		case 1: // on the middle of the line before
			if i > 0 {
				p := lines[i-1].Path
				b = orb.Point{(p[0][0] + p[1][0]) / 2, (p[0][1] + p[1][1]) / 2}
			}
		}
		lines = append(lines, plain(fmt.Sprintf("t%03d", i), a, b))
	}
	return lines
}

// TestTanglesInAnyOrder: lines that cross, touch and fall short give the same network and the same
// troubles, word for word, in any order of the records.
func TestTanglesInAnyOrder(t *testing.T) {
	random := rand.New(rand.NewPCG(201, 202))
	for range 25 {
		lines := tangle(random, 5+random.IntN(25))
		o := DefaultOptions()
		o.CloseGap = geo.Meters(30 * random.IntN(2))
		want := summary(lines, o)
		for range 4 {
			random.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
			if got := summary(lines, o); got != want {
				t.Fatalf("%s\n\nwant\n%s", got, want)
			}
		}
	}
}

// TestWhatEveryNetworkHas: for tangles, edges are in flow order, shares add up to 1 at each node,
// there is one main path, each edge is listed with its line, components are connected, and offsets
// convert to measures and back.
func TestWhatEveryNetworkHas(t *testing.T) {
	random := rand.New(rand.NewPCG(211, 212))
	for range 60 {
		lines := tangle(random, 5+random.IntN(40))
		n, _ := Build(lines, DefaultOptions())
		for v := range n.Nodes {
			out := n.Out(int32(v))
			sum, main := 0.0, 0
			for k, e := range out {
				sum += n.Edges[e].Share
				if !n.Edges[e].Minor {
					main++
				}
				if n.Edges[e].From != int32(v) || k > 0 && !n.Edges[e].Minor {
					t.Fatalf("edge %d at node %d", e, v)
				}
			}
			if len(out) > 0 {
				near(t, "shares", sum, 1, 1e-9)
				if main != 1 {
					t.Errorf("%d main paths", main)
				}
			}
			for _, e := range n.In(int32(v)) {
				if n.Edges[e].To != int32(v) {
					t.Fatalf("edge %d does not come to %d", e, v)
				}
				for _, d := range out {
					if d <= e || n.Edges[d].Component != n.Edges[e].Component {
						t.Fatalf("edge %d comes before %d", d, e)
					}
				}
			}
		}
		for i := range n.Edges {
			e := &n.Edges[i]
			of := n.EdgesOf(e.Line)
			at := slices.Index(of, int32(i))
			if at < 0 || at > 0 && n.Edges[of[at-1]].End != e.Start {
				t.Fatalf("edge %d of line %d: %v", i, e.Line, of)
			}
			for _, share := range []geo.Meters{0, 0.3, 1} {
				measure := e.Measure(share * e.Length)
				if measure < e.Start-1e-9 || measure > e.End+1e-9 {
					t.Fatalf("measure %v of an edge from %v to %v", measure, e.Start, e.End)
				}
				if share == 0.3 {
					p := n.At(e.Line, measure)
					if p.Edge != int32(i) {
						t.Fatalf("measure %v is on edge %d, not on %d", measure, p.Edge, i)
					}
					near(t, "offset", p.Offset, float64(share*e.Length), 1e-6)
				}
			}
			if down := n.Down(int32(i)); down >= 0 {
				near(t, "to the outlet", e.OutletKm, float64(n.Edges[down].OutletKm+n.Edges[down].Length.Kilometers()), 1e-9)
			}
		}
		s := n.Sweep(everywhere(n, 1e-4), []Source{{Place{0, 0}, 1}})
		near(t, "balance", s.Settled+s.Held+s.Left, 1, 1e-12)
	}
}

// TestOverTheAntimeridian: a line that jumps from 180 to -180 and one that continues past 180 are
// the same line, and meet the same other lines.
func TestOverTheAntimeridian(t *testing.T) {
	jump := []Line{
		plain("a", orb.Point{179.99, 0.01}, orb.Point{-179.99, 0}), plain("b", orb.Point{-179.99, 0}, orb.Point{-179.98, -0.02}),
		plain("c", orb.Point{-179.985, 0.02}, orb.Point{-179.99, 0}), plain("d", orb.Point{179.995, -0.01}, orb.Point{179.995, 0.0075}),
	}
	on := slices.Clone(jump)
	for i := range on {
		on[i].Path = slices.Clone(on[i].Path)
		earth.RunOn(on[i].Path, 179)
	}
	if on[0].Path[1][0] != 180.01 {
		t.Fatalf("%v", on[0].Path)
	}
	want, got := summary(jump, DefaultOptions()), summary(on, DefaultOptions())
	if got != want {
		t.Errorf("%s\n\nwant\n%s", got, want)
	}
	n, _ := Build(jump, DefaultOptions())
	near(t, "length of a", n.LineLength(0), 2485.86, 0.01) // 2226.39 m east and 1105.74 m south at the equator
}

// TestTheSameLineTwice: a copy of a line under another name is a second branch, with half of the
// water each; under the same name it is reported.
func TestTheSameLineTwice(t *testing.T) {
	up, down := plain("u", orb.Point{0, 0.01}, orb.Point{0, 0}), plain("d", orb.Point{0, -0.01}, orb.Point{0, -0.02})
	a, b := plain("a", orb.Point{0, 0}, orb.Point{0, -0.01}), plain("b", orb.Point{0, 0}, orb.Point{0, -0.01})
	lines := []Line{up, a, b, down}
	n, _ := Build(lines, DefaultOptions())
	for _, name := range []string{"a", "b"} {
		near(t, name, n.Edges[edgeNamed(n, lines, name)].Share, 0.5, 0)
	}
	km := float64(n.LineLength(0)) / 1000
	near(t, "above the foot", n.Edges[edgeNamed(n, lines, "d")].UpstreamKm, 4*km, 1e-6)
	b.Name = "a"
	if _, troubles := Build([]Line{up, a, b, down}, DefaultOptions()); !slices.Contains(kinds(troubles), RepeatedName) {
		t.Errorf("%v", kinds(troubles))
	}
}

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
	"driftreach/geo/shape"
)

// box is a lake by its sides, in degrees; a longitude past 180 runs on.
func box(id string, west, south, east, north float64) Surface {
	return Surface{ID: id, File: "w.geojson", Row: 1, Kind: Lake, Areas: orb.MultiPolygon{{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}}}
}

// of edges: the line, the surface and where it ends on the line, in thousandths of a degree of the
// equator (111.32 m).
func edges(n *Network) (out []string) {
	for e := range n.Net.Edges {
		edge, on := n.Net.Edges[e], "-"
		if n.On[e] >= 0 {
			on = n.Surfaces[n.On[e]].ID
		}
		out = append(out, fmt.Sprintf("%s %s %.0f", n.Lines[edge.Line].ID, on, float64(edge.End)/111.3195))
	}
	return out
}

// Lines are split where they cross a shore, by hand along the equator: on a lake, out of it, straight
// into the next, and through a bay twice.
func TestLinesAreSplitAtShores(t *testing.T) {
	x := func(thousandths, y float64) orb.Point { return orb.Point{10 + thousandths/1000, y} }
	lake := box("l", 10.002, -0.001, 10.005, 0.001)
	beside := box("m", 10.005, -0.001, 10.007, 0.001)
	bay := Surface{ID: "b", Kind: Lake, Areas: orb.MultiPolygon{{{x(2, -1), x(8, -1), x(8, 1), x(6, 1), x(6, -0.5), x(4, -0.5), x(4, 1), x(2, 1), x(2, -1)}}}}
	for _, tt := range []struct {
		name     string
		lines    []Centerline
		surfaces []Surface
		want     []string
		told     string
	}{
		{"across a lake", []Centerline{line("a", 1, x(0, 0), x(10, 0))}, []Surface{lake}, []string{"a - 2", "a l 5", "a - 10"}, ""},
		{"with vertices in it", []Centerline{line("a", 1, x(0, 0), x(3, 0), x(4, 0), x(10, 0))}, []Surface{lake}, []string{"a - 2", "a l 5", "a - 10"}, ""},
		{"begins on it", []Centerline{line("a", 1, x(3, 0), x(10, 0))}, []Surface{lake}, []string{"a l 2", "a - 7"}, ""},
		{"ends on it", []Centerline{line("a", 1, x(0, 0), x(4, 0))}, []Surface{lake}, []string{"a - 2", "a l 4"}, ""},
		{"from one into the next", []Centerline{line("a", 1, x(0, 0), x(10, 0))}, []Surface{lake, beside}, []string{"a - 2", "a l 5", "a m 7", "a - 10"}, ""},
		{"across a bay", []Centerline{line("a", 1, x(0, 0), x(10, 0))}, []Surface{bay}, []string{"a - 2", "a b 4", "a - 6", "a b 8", "a - 10"}, ""},
		{"past it", []Centerline{line("a", 1, x(0, 0.5), x(10, 0.5))}, []Surface{lake}, []string{"a - 10"}, "l water-without-stream"},
		{"no water", []Centerline{line("a", 1, x(0, 0), x(10, 0))}, nil, []string{"a - 10"}, ""},
		{"two lines that meet on it", []Centerline{line("a", 1, x(0, 0), x(3, 0)), line("b", 2, x(3, 0), x(10, 0))}, []Surface{lake}, []string{"a - 2", "a l 3", "b l 2", "b - 7"}, ""},
	} {
		n, findings := Connect(tt.lines, nil, tt.surfaces, flow.Options{Snap: 1})
		if got := edges(n); !slices.Equal(got, tt.want) || told(findings) != tt.told {
			t.Errorf("%s: %q with %q, want %q with %q", tt.name, got, told(findings), tt.want, tt.told)
		}
	}
	sea := line("s", 1, x(0, 0), x(10, 0))
	sea.Coast = true
	if got := shores([]Centerline{sea, line("a", 2, x(0, 0), x(10, 0))}, shape.NewCoverage([]orb.MultiPolygon{lake.Areas})); got[0] != nil || len(got[1]) != 2 {
		t.Errorf("a coast is split at %v, a stream at %v", got[0], got[1])
	}
}

// A lake across the antimeridian splits a line that crosses it there, whichever way its longitudes
// are written: 60 degrees south, so that a thousandth of a degree is half as long.
func TestShoresAtTheAntimeridian(t *testing.T) {
	lake := box("l", 179.998, -60.001, 180.003, -59.999)
	n, findings := Connect([]Centerline{line("a", 1, orb.Point{179.99, -60}, orb.Point{-179.99, -60})}, nil, []Surface{lake}, flow.Options{Snap: 1})
	var got []string
	for e := range n.Net.Edges {
		got = append(got, fmt.Sprintf("%d %.0f", n.On[e], float64(n.Net.Edges[e].End)/55.80))
	}
	if want := []string{"-1 8", "0 13", "-1 20"}; !slices.Equal(got, want) || len(findings) > 0 {
		t.Errorf("%q with %s, want %q", got, told(findings), want)
	}
	if n := len(lake.EveryTurn()); n != 2 {
		t.Errorf("%d copies, want one on either side", n)
	}
	if n := len((&Surface{Areas: orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}}}).EveryTurn()); n != 1 {
		t.Errorf("%d copies of a lake at Greenwich", n)
	}
}

// The place half the way along any path divides it into two of the same length; by measuring both.
func TestHalfway(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var path orb.LineString
		for range rapid.IntRange(2, 6).Draw(t, "vertices") {
			lon := earth.Wrap(179.9 + rapid.Float64Range(0, 0.2).Draw(t, "lon"))
			path = append(path, orb.Point{lon, rapid.Float64Range(40, 40.2).Draw(t, "lat")})
		}
		half := halfway(path)
		first, i := orb.LineString{path[0]}, 1
		rest := earth.LineLength(path) / 2
		for ; i < len(path)-1 && earth.LineLength(append(slices.Clone(first), path[i])) < rest; i++ {
			first = append(first, path[i])
		}
		before := earth.LineLength(append(first, orb.Point{earth.Wrap(half[0]), half[1]}))
		after := earth.LineLength(append(orb.LineString{{earth.Wrap(half[0]), half[1]}}, path[i:]...))
		if d := math.Abs(float64(before - after)); d > 0.01+1e-3*float64(before) { // straight in degrees, not on the earth
			t.Errorf("%v: %g m before %v, %g m after", path, float64(before), half, float64(after))
		}
	})
	if got := halfway(orb.LineString{{1, 2}, {1, 2}}); got != (orb.Point{1, 2}) {
		t.Errorf("half the way of none: %v", got)
	}
	if got := halfway(orb.LineString{{0, 0}, {0, 0}, {0.002, 0}}); math.Abs(got[0]-0.001) > 1e-12 || got[1] != 0 {
		t.Errorf("%v, want the middle", got)
	}
	if got := halfway(orb.LineString{{0, 0}, {0.003, 0}, {0.003, 0.001}}); math.Abs(got[0]-0.002) > 2e-5 || got[1] != 0 { // 1.0033 of 3.0 and 1
		t.Errorf("%v, want 2/3 of the first side", got)
	}
}

// Surfaces by hand at the limits: more turns than one are copied, kinds in capitals are read, and the
// order of two surfaces goes by name, kind and place.
func TestSurfaceOrder(t *testing.T) {
	base := box("a", 1, 1, 2, 2)
	base.Name = "M"
	ranked := []Surface{base, base, base, base}
	ranked[0].Name, ranked[1].Areas, ranked[3].Kind = "L", box("", 0, 1, 2, 2).Areas, River
	for i := range ranked {
		for k := range ranked {
			got := compareSurfaceContent(&ranked[i], &ranked[k])
			if (got < 0) != (i < k) || (got > 0) != (i > k) {
				t.Errorf("%d and %d: %d", i, k, got)
			}
		}
	}
	kept, findings := CheckSurfaces([]Surface{{ID: "w", Kind: " StreamRiver ", Areas: box("", 1, 1, 2, 2).Areas}, {ID: "x", Kind: "bog", Areas: box("", 3, 1, 4, 2).Areas}}, Options{})
	if kept[0].Kind != River || kept[1].Kind != River || told(findings) != "x water-kind-unknown" || !strings.Contains(findings[0].Message, "is read as a river") {
		t.Errorf("%v, %v", kept, findings)
	}
	for word, want := range map[string]SurfaceKind{"390": Lake, "39x04": "", "Canal/Ditch": River, "49300": River, "99999": ""} {
		if got, _ := ParseSurfaceKind(word); got != want {
			t.Errorf("%q is %q, want %q", word, got, want)
		}
	}
}

package linear

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// origins are places to draw lines around; some are at the antimeridian or at high latitudes.
var origins = []orb.Point{{0, 0}, {-78.9, 35.8}, {179.9995, -17.8}, {-179.9998, 65}, {25, 70}, {140, -38}}

// drawLines draws winding lines around an origin, with longitudes in [-180, 180).
func drawLines(t *rapid.T, origin orb.Point) []orb.LineString {
	lines := make([]orb.LineString, rapid.IntRange(1, 12).Draw(t, "lines"))
	step := rapid.Float64Range(-0.004, 0.004)
	for i := range lines {
		p := orb.Point{origin[0] + step.Draw(t, "lon"), origin[1] + step.Draw(t, "lat")}
		for range rapid.IntRange(1, 30).Draw(t, "vertices") {
			lines[i] = append(lines[i], orb.Point{earth.Wrap(p[0]), p[1]})
			p = orb.Point{p[0] + step.Draw(t, "lon"), p[1] + step.Draw(t, "lat")}
		}
	}
	return lines
}

// nearestByFrame is an independent computation: it measures every segment in an ellipsoidal plane
// centred on the query point.
func nearestByFrame(lines []orb.LineString, p orb.Point) float64 {
	frame, best := earth.NewFrame(p), math.Inf(1)
	for _, path := range lines {
		_, _, d := NearestOnLine(orb.Point{}, frame.ProjectLine(path))
		best = min(best, float64(d))
	}
	return best
}

// TestNearestAgainstFrame compares Nearest with the distance to every segment in the plane of
// geo/earth. Nearest takes a segment as straight in degrees, the plane as straight in metres, which
// differs by up to 0.1 m for the 600 m segments drawn at 70 N.
func TestNearestAgainstFrame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		origin := rapid.SampledFrom(origins).Draw(t, "origin")
		lines := drawLines(t, origin)
		p := orb.Point{earth.Wrap(origin[0] + rapid.Float64Range(-0.02, 0.02).Draw(t, "x")), origin[1] + rapid.Float64Range(-0.02, 0.02).Draw(t, "y")}
		got, ok := NewIndex(lines).Nearest(p)
		want := nearestByFrame(lines, p)
		if !ok || math.Abs(float64(got.Distance)-want) > 0.1 {
			t.Fatalf("%v: %g m, frame gives %g", got, got.Distance, want)
		}
		if d := earth.Distance(p, got.Point); math.Abs(float64(d-got.Distance)) > 1e-9 {
			t.Fatalf("point is %g m away, said %g", d, got.Distance)
		}
	})
}

// TestNearestFarAway: a nearest line is found even half the globe away: from (0, 0) the line at 100
// E is nearer than the one at 120 W. From a quarter of the globe and more, the end towards the pole
// is slightly nearer (by hand: 100 degrees of the equator are 11 131.949 km).
func TestNearestFarAway(t *testing.T) {
	got, ok := NewIndex([]orb.LineString{{{-120, 0}, {-120, 1}}, {{100, 0}, {100, 1}}}).Nearest(orb.Point{0, 0})
	if !ok || got.Line != 1 || math.Abs(float64(got.Distance)-11_131_949) > 200 {
		t.Errorf("got %+v", got)
	}
}

// TestNearestFromAnywhere: ten points are sampled on every segment. From anywhere on the globe none
// of them is nearer by geodesic than the point found, within one part in 1e4 up to 2000 km and one
// in 1e3 beyond.
func TestNearestFromAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := drawLines(t, rapid.SampledFrom(origins).Draw(t, "origin"))
		lines = append(lines, drawLines(t, rapid.SampledFrom(origins).Draw(t, "other origin"))...)
		p := orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-90, 90).Draw(t, "lat")}
		if rapid.Bool().Draw(t, "tens of kilometres off") {
			at := lines[0][0]
			p = orb.Point{earth.Wrap(at[0] + p[0]/180), min(max(at[1]+p[1]/180, -90), 90)}
		}
		best := math.Inf(1)
		for _, path := range lines {
			for i := range path {
				for k := range 10 {
					best = min(best, float64(earth.Distance(p, Interpolate(path[i], path[min(i+1, len(path)-1)], float64(k)/10))))
				}
			}
		}
		allowed := 1e-4
		if best > 2e6 {
			allowed = 1e-3
		}
		got, ok := NewIndex(lines).Nearest(p)
		if !ok || float64(got.Distance) > best*(1+allowed)+0.1 {
			t.Fatalf("from %v: %+v, but there is one %g m off", p, got, best)
		}
		path := lines[got.Line]
		if on := Interpolate(path[got.Segment], path[min(int(got.Segment)+1, len(path)-1)], got.Fraction); got.Distance != earth.Distance(p, on) || got.Point != on {
			t.Fatalf("%+v is not at its own fraction, %v", got, on)
		}
	})
}

// TestNearMissesNothing: every vertex within the distance is in a run; the runs are sorted and do
// not overlap.
func TestNearMissesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		origin := rapid.SampledFrom(origins).Draw(t, "origin")
		lines := drawLines(t, origin)
		half := geo.Meters(rapid.Float64Range(1, 2000).Draw(t, "half"))
		runs := NewIndex(lines).Near(origin, half)
		for i := 1; i < len(runs); i++ {
			a, b := runs[i-1], runs[i]
			if a.Line > b.Line || a.Line == b.Line && a.Last >= b.First {
				t.Fatalf("runs %+v and %+v", a, b)
			}
		}
		for i, path := range lines {
			for k, p := range path {
				in := slices.ContainsFunc(runs, func(r Run) bool {
					return int(r.Line) == i && int(r.First) <= k && k <= int(r.Last)
				})
				if earth.Distance(origin, p) <= half && !in {
					t.Fatalf("vertex %d of line %d is %g m away and was missed", k, i, earth.Distance(origin, p))
				}
			}
		}
	})
}

// TestNearLeavesTheFarAway: the index does not return lines a degree away, on either side of the
// antimeridian.
func TestNearLeavesTheFarAway(t *testing.T) {
	lines := []orb.LineString{{{178.9, 0}, {178.91, 0}}, {{179.9999, 0}, {-179.9999, 0}}, {{-178.9, 0}, {-178.91, 0}}}
	ix := NewIndex(lines)
	for _, at := range []orb.Point{{179.9995, 0}, {-179.9995, 0}, {180, 0}, {-180, 0}} {
		if runs := ix.Near(at, 500); !slices.Equal(runs, []Run{{1, 0, 1}}) {
			t.Errorf("near %v: %v", at, runs)
		}
	}
}

// TestTies: of two lines through the same place the first is taken.
func TestTies(t *testing.T) {
	path := orb.LineString{{0, 0}, {0.01, 0}, {0.02, 0}}
	got, _ := NewIndex([]orb.LineString{{{0, 1}, {1, 1}}, path, path}).Nearest(orb.Point{0.01, 0.001})
	if got.Line != 1 || got.Segment != 0 || got.Fraction != 1 {
		t.Errorf("got %+v, want the end of segment 0 of line 1", got)
	}
}

// TestNearestOfNothing: there are no lines, or none is usable.
func TestNearestOfNothing(t *testing.T) {
	for name, lines := range map[string][]orb.LineString{"none": nil, "empty": {{}}, "no number": {{{math.NaN(), 0}, {1, 1}}}} {
		if got, ok := NewIndex(lines).Nearest(orb.Point{}); ok {
			t.Errorf("%s: found %+v", name, got)
		}
	}
}

// TestCut: consecutive pieces of a line join, the length of each is the difference of its measures
// to 1e-3 m, and the vertices inside are kept.
func TestCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		path := drawLines(t, rapid.SampledFrom(origins).Draw(t, "origin"))[0]
		m := earth.LengthsAlong(path)
		whole := m[len(m)-1]
		if whole != earth.LineLength(path) {
			t.Fatalf("measures end at %g, line is %g long", whole, earth.LineLength(path))
		}
		a := geo.Meters(rapid.Float64Range(0, 1).Draw(t, "a")) * whole
		b := a + geo.Meters(rapid.Float64Range(0, 1).Draw(t, "b"))*(whole-a)
		first, piece, last := Cut(path, m, 0, a), Cut(path, m, a, b), Cut(path, m, b, whole)
		// vertices closer than rounding count as the same
		apart := func(p, q orb.Point) bool { return earth.Distance(p, q) > 1e-8 }
		if apart(first[len(first)-1], piece[0]) || apart(piece[len(piece)-1], last[0]) ||
			apart(first[0], path[0]) || apart(last[len(last)-1], path[len(path)-1]) {
			t.Fatalf("pieces do not join: %v %v %v", first, piece, last)
		}
		if got := earth.LineLength(piece); math.Abs(float64(got-(b-a))) > 1e-3 {
			t.Fatalf("piece is %g m long, want %g", got, b-a)
		}
		for _, p := range piece {
			if p[0] < -180 || p[0] >= 180.0000001 {
				t.Fatalf("longitude %g", p[0])
			}
		}
	})
}

// TestCutByHand cuts a line of three vertices in the middle of both segments.
func TestCutByHand(t *testing.T) {
	path := orb.LineString{{179.998, 0}, {-180, 0}, {-179.998, 0}}
	m := earth.LengthsAlong(path)
	got := Cut(path, m, geo.Meters(m[1]/2), geo.Meters(m[1]*1.5))
	want := orb.LineString{{179.999, 0}, {-180, 0}, {-179.999, 0}}
	for i := range want {
		if len(got) != 3 || math.Abs(earth.Wrap(got[i][0]-want[i][0])) > 1e-9 || got[i][1] != 0 {
			t.Fatalf("got %v, want %v", got, want)
		}
	}
	if got := Cut(nil, nil, 0, 1); got != nil {
		t.Errorf("cut of nothing: %v", got)
	}
	if got := Cut(orb.LineString{{1, 2}}, []geo.Meters{0}, 0, 1); len(got) != 2 || got[0] != got[1] {
		t.Errorf("cut of one vertex: %v", got)
	}
}

// TestNearestOnLine by hand: a right angle; places beside its corner and beyond its ends.
func TestNearestOnLine(t *testing.T) {
	path := orb.LineString{{0, 0}, {10, 0}, {10, 10}}
	cases := []struct {
		name     string
		at       orb.Point
		segment  int
		fraction float64
		d        geo.Meters
	}{
		{"above the first", orb.Point{4, 3}, 0, 0.4, 3},
		{"before the start", orb.Point{-3, 4}, 0, 0, 5},
		{"outside the corner", orb.Point{13, -4}, 0, 1, 5},
		{"beside the second", orb.Point{12, 5}, 1, 0.5, 2},
		{"on the line", orb.Point{10, 7}, 1, 0.7, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			segment, fraction, d := NearestOnLine(c.at, path)
			if segment != c.segment || math.Abs(fraction-c.fraction) > 1e-15 || math.Abs(float64(d-c.d)) > 1e-15 {
				t.Errorf("got %d %g %g, want %d %g %g", segment, fraction, d, c.segment, c.fraction, c.d)
			}
		})
	}
	if _, _, d := NearestOnLine(orb.Point{}, nil); !math.IsInf(float64(d), 1) {
		t.Errorf("distance to nothing is %g", d)
	}
}

// streams returns n random lines of 20 vertices.
func streams(n int) []orb.LineString {
	r := rand.New(rand.NewPCG(5, 6))
	lines := make([]orb.LineString, n)
	for i := range lines {
		p := orb.Point{-1 + 4*r.Float64(), 44 + 3*r.Float64()}
		for range 20 {
			lines[i] = append(lines[i], p)
			p[0] += (r.Float64() - 0.3) * 0.001
			p[1] += (r.Float64() - 0.4) * 0.001
		}
	}
	return lines
}

func BenchmarkNewIndex(b *testing.B) {
	lines := streams(100_000)
	b.ReportAllocs()
	for b.Loop() {
		NewIndex(lines)
	}
}

func BenchmarkNear(b *testing.B) {
	ix := NewIndex(streams(100_000))
	r := rand.New(rand.NewPCG(7, 8))
	for _, half := range []geo.Meters{60, 500} {
		b.Run(fmt.Sprint(half), func(b *testing.B) {
			b.ReportAllocs()
			var runs []Run
			for b.Loop() {
				runs = ix.AppendNear(runs[:0], orb.Point{-1 + 4*r.Float64(), 44 + 3*r.Float64()}, half)
			}
		})
	}
}

func BenchmarkNearest(b *testing.B) {
	ix := NewIndex(streams(100_000))
	for _, far := range []float64{0, 0.3, 3, 30, 90} { // degrees north of them
		b.Run(fmt.Sprintf("%gN", far), func(b *testing.B) {
			r := rand.New(rand.NewPCG(7, 8))
			north := 44.0
			if far > 0 {
				north = 47 + far - 3
			}
			b.ReportAllocs()
			for b.Loop() {
				ix.Nearest(orb.Point{-1 + 4*r.Float64(), min(90, north+3*r.Float64())})
			}
		})
	}
}

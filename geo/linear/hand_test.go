package linear

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// TestCurve: the curve interleaves the bits of two numbers, lowest first, longitude before latitude
// (Morton 1966); by hand. The middle of a box at 10 W, 20 N is 530 degrees east and 200 north of
// the origin of the curve, counted in cells of 2^-21 degrees.
func TestCurve(t *testing.T) {
	for x, want := range map[uint64]uint64{0: 0, 1: 1, 2: 4, 3: 5, 0b1011: 0b1000101, 0xff: 0x5555, 0xffff: 0x55555555, 0xffffffff: 0x5555555555555555, 1 << 31: 1 << 62, 1 << 32: 0} {
		if got := spread(x); got != want {
			t.Errorf("%b: %b, want %b", x, got, want)
		}
	}
	if got, want := curve([2]float64{-12, 19}, [2]float64{-8, 21}), spread(530<<21)|spread(200<<21)<<1; got != want {
		t.Errorf("%d, want %d", got, want)
	}
}

// TestSolidOff: by hand: the distance from a place to a box in space: from beside a face, an edge
// and a corner (3, 4, 12 and 13), and from inside.
func TestSolidOff(t *testing.T) {
	box := solid{[3]float64{0, 0, 0}, [3]float64{10, 20, 30}}
	for from, want := range map[[3]float64]float64{
		{5, 5, 5}: 0, {0, 20, 30}: 0, {-3, 5, 5}: 9, {13, 5, 5}: 9, {-3, 24, 5}: 25, {13, 5, -4}: 25, {5, 32, 35}: 169, {-3, 24, 42}: 169,
	} {
		if got := box.off2(from); got != want {
			t.Errorf("from %v: %g, want %g", from, got, want)
		}
	}
	if got, want := box.with(solid{[3]float64{-1, 5, 5}, [3]float64{5, 25, 25}}), (solid{[3]float64{-1, 0, 0}, [3]float64{10, 25, 30}}); got != want {
		t.Errorf("together %v, want %v", got, want)
	}
}

// TestNearestOfFarLines: the lines are a millimetre long, scattered over the earth and more than 52
// km from the place; the search finds the line with the smallest geodesic distance to its vertices.
func TestNearestOfFarLines(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	var lines []orb.LineString
	for range 60 {
		p := orb.Point{360*r.Float64() - 180, 170*r.Float64() - 85}
		lines = append(lines, orb.LineString{p, {p[0], p[1] + 1e-8}})
	}
	ix := NewIndex(lines)
	for range 300 {
		at := orb.Point{360*r.Float64() - 180, 170*r.Float64() - 85}
		best, which := math.Inf(1), int32(-1)
		for i, line := range lines {
			if d := float64(earth.Distance(at, line[0])); d < best {
				best, which = d, int32(i)
			}
		}
		got, ok := ix.Nearest(at)
		// beyond 1000 km the search is approximate
		if !ok || best < 1e6 && got.Line != which || float64(got.Distance) > best*1.001 {
			t.Fatalf("%v: %+v, want line %d, %g m", at, got, which, best)
		}
	}
}

// TestSquare: half widths in degrees, by hand: a degree of latitude is 110574.27 m at the equator
// (WGS 84), a degree of longitude 111319.49 m there and 55800 m at 60 N. Near a pole every
// longitude is near, and no square is wider than a full turn.
func TestSquare(t *testing.T) {
	low, high := square(orb.Point{370, 0}, 110574.27)
	for what, pair := range map[string][2]float64{"south": {low[1], -1}, "north": {high[1], 1}, "west": {low[0], 10 - 0.9935}, "east": {high[0], 10 + 0.9935}} {
		if math.Abs(pair[0]-pair[1]) > 2e-4 {
			t.Errorf("%s: %g, want %g", what, pair[0], pair[1])
		}
	}
	low, high = square(orb.Point{0, 59.9}, 11057.427) // reaches 60 N
	if math.Abs(high[0]-11057.427/55800) > 1e-4 || math.Abs(low[0]+high[0]) > 1e-12 || math.Abs(high[1]-60) > 1e-6 {
		t.Errorf("%v, %v", low, high)
	}
	for _, at := range []orb.Point{{0, 89.95}, {0, -89.95}} {
		if low, high = square(at, 100); low[0] != -180 || high[0] != 180 {
			t.Errorf("%v: %v, %v", at, low, high)
		}
	}
	if low, high = square(orb.Point{0, 89}, 1e6); high[0]-low[0] > 360 {
		t.Errorf("%v, %v", low, high)
	}
}

// TestRunsOfALine: by hand: nine vertices make one run; ten make two, which share a vertex; a
// single vertex makes one. A box that crosses the antimeridian gets a copy a full turn away.
func TestRunsOfALine(t *testing.T) {
	line := func(n int, lon float64) (path orb.LineString) {
		for i := range n {
			path = append(path, orb.Point{earth.Wrap(lon + float64(i)), 1})
		}
		return path
	}
	for n, want := range map[int][]Run{0: nil, 1: {{3, 0, 0}}, 2: {{3, 0, 1}}, 9: {{3, 0, 8}}, 10: {{3, 0, 8}, {3, 8, 9}}, 17: {{3, 0, 8}, {3, 8, 16}}, 18: {{3, 0, 8}, {3, 8, 16}, {3, 16, 17}}} {
		var got []Run
		for _, b := range appendBoxes(nil, 3, line(n, 10)) {
			got = append(got, b.run)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%d vertices: %v, want %v", n, got, want)
		}
		if room := boxCount(LinesOf([]orb.LineString{line(n, 10)})); n > 1 && room != len(want) {
			t.Errorf("%d vertices: room for %d", n, room)
		}
	}
	got := appendBoxes(nil, 0, line(4, 178)) // 178 to 181
	if len(got) != 2 || got[0].min[0] != 178 || got[0].max[0] != 181 || got[1].min[0] != -182 || got[1].max[0] != -179 || got[1].min[1] != 1 || got[0].curve == got[1].curve {
		t.Errorf("%+v", got)
	}
	west := appendBoxes(nil, 0, orb.LineString{{-179, 1}, {179, 2}, {-178, 0}})
	if len(west) != 2 || west[0].min != [2]float64{-181, 0} || west[0].max != [2]float64{-178, 2} || west[1].min[0] != 179 || west[1].max[0] != 182 {
		t.Errorf("%+v", west)
	}
	for _, bad := range []orb.Point{{math.NaN(), 0}, {0, math.NaN()}, {math.Inf(1), 0}, {0, math.Inf(-1)}, {math.Inf(1), math.Inf(-1)}} {
		for _, path := range []orb.LineString{{bad, {0, 0}}, {{0, 0}, bad}} {
			if got := appendBoxes(nil, 0, path); len(got) != 0 {
				t.Errorf("%v: %+v", path, got)
			}
		}
	}
}

// TestMerge: touching runs of a line become one, whichever of them is longer; by hand.
func TestMerge(t *testing.T) {
	runs := []Run{{0, 0, 8}, {0, 0, 8}, {0, 8, 16}, {0, 17, 20}, {1, 18, 19}, {1, 18, 30}, {1, 20, 22}, {2, 30, 31}}
	if got := runs[:merge(runs)]; !slices.Equal(got, []Run{{0, 0, 16}, {0, 17, 20}, {1, 18, 30}, {2, 30, 31}}) {
		t.Error(got)
	}
	if merge(nil) != 0 {
		t.Error("runs of nothing")
	}
}

// TestSegments: for a measure, the last segment that begins at or before it, and the fraction along
// that segment; by hand. On a segment without length the fraction is 0.
func TestSegments(t *testing.T) {
	m := []geo.Meters{0, 10, 10, 30}
	for at, want := range map[geo.Meters]struct {
		segment  int
		fraction float64
	}{-5: {0, 0}, 0: {0, 0}, 4: {0, 0.4}, 9.99: {0, 0.999}, 10: {2, 0}, 15: {2, 0.25}, 30: {2, 1}, 45: {2, 1}} {
		i := segmentAt(m, at)
		if f := fractionAt(m, i, at); i != want.segment || math.Abs(f-want.fraction) > 1e-12 {
			t.Errorf("%g: segment %d, %g, want %+v", at, i, f, want)
		}
	}
	if f := fractionAt(m, 1, 11); f != 0 {
		t.Errorf("%g along a segment of no length", f)
	}
	if i, f := segmentAt([]geo.Meters{0}, 5), fractionAt([]geo.Meters{0}, 0, 5); i != 0 || f != 0 {
		t.Error(i, f)
	}
}

// TestPlacesAlong: on the equator a degree is 111319.4908 m. The line then turns north along a
// meridian, from 0 to 0.5 N: 55287.15 m (half of 110574.3). By hand.
func TestPlacesAlong(t *testing.T) {
	line := orb.LineString{{0, 0}, {1, 0}, {1, 1}}
	m := earth.LengthsAlong(line)
	if len(m) != 3 || m[0] != 0 || math.Abs(float64(m[1]-111319.4908)) > 1e-3 || math.Abs(float64(m[2]-m[1]-110574.3886)) > 1e-3 {
		t.Fatal(m)
	}
	if earth.LengthsAlong(nil) != nil {
		t.Error("measures of nothing")
	}
	for at, want := range map[geo.Meters]orb.Point{-1: {0, 0}, 0: {0, 0}, 111319.4908 / 4: {0.25, 0}, 111319.4908: {1, 0}, 111319.4908 + 55287.19: {1, 0.5}, 221893.8794: {1, 1}, 1e6: {1, 1}} {
		if got := PointAt(line, m, at); math.Abs(got[0]-want[0]) > 1e-7 || math.Abs(got[1]-want[1]) > 1e-6 {
			t.Errorf("%g m: %v, want %v", at, got, want)
		}
	}
	if got := PointAt(orb.LineString{{3, 4}}, []geo.Meters{0}, 9); got != (orb.Point{3, 4}) {
		t.Error(got)
	}
	for _, test := range []struct {
		p, q, want orb.Point
		f          float64
	}{
		{orb.Point{10, 0}, orb.Point{20, 4}, orb.Point{12.5, 1}, 0.25}, {orb.Point{179, 0}, orb.Point{-179, 2}, orb.Point{-179.5, 1.5}, 0.75},
		{orb.Point{179, 0}, orb.Point{-179, 2}, orb.Point{179.5, 0.5}, 0.25}, {orb.Point{-179, 0}, orb.Point{179, 2}, orb.Point{179.5, 1.5}, 0.75},
		{orb.Point{179, 0}, orb.Point{181, 2}, orb.Point{180.5, 1.5}, 0.75}, {orb.Point{180, 0}, orb.Point{-179, 2}, orb.Point{-179.5, 1}, 0.5}, {orb.Point{-180, 0}, orb.Point{179, 2}, orb.Point{179.5, 1}, 0.5}, {orb.Point{1, 2}, orb.Point{3, 4}, orb.Point{1, 2}, -1}, {orb.Point{1, 2}, orb.Point{3, 4}, orb.Point{3, 4}, 2},
	} {
		if got := Interpolate(test.p, test.q, test.f); math.Abs(got[0]-test.want[0]) > 1e-12 || math.Abs(got[1]-test.want[1]) > 1e-12 {
			t.Errorf("%g of %v to %v: %v, want %v", test.f, test.p, test.q, got, test.want)
		}
	}
}

// TestNearestPlaces: the nearest point on a line by hand, with its fraction along the segment; a
// line of a single vertex; the first of two equally near points; geodesic distances.
func TestNearestPlaces(t *testing.T) {
	lines := []orb.LineString{{{0, 0}, {0.004, 0}, {0.004, 0.004}}, {{0.01, 0}}, {{0.004, -0.001}, {0.006, -0.001}}}
	ix := NewIndex(lines)
	for _, test := range []struct {
		at       orb.Point
		line     int32
		segment  int32
		fraction float64
		point    orb.Point
	}{
		{orb.Point{0.001, 0.0005}, 0, 0, 0.25, orb.Point{0.001, 0}}, {orb.Point{0.0045, 0.003}, 0, 1, 0.75, orb.Point{0.004, 0.003}}, {orb.Point{-0.001, 0}, 0, 0, 0, orb.Point{0, 0}},
		{orb.Point{0.004, 0.005}, 0, 1, 1, orb.Point{0.004, 0.004}}, {orb.Point{0.012, 0.001}, 1, 0, 0, orb.Point{0.01, 0}}, {orb.Point{0.0055, -0.002}, 2, 0, 0.75, orb.Point{0.0055, -0.001}},
	} {
		got, ok := ix.Nearest(test.at)
		if !ok || got.Line != test.line || got.Segment != test.segment || math.Abs(got.Fraction-test.fraction) > 1e-6 ||
			math.Abs(got.Point[0]-test.point[0]) > 1e-9 || math.Abs(got.Point[1]-test.point[1]) > 1e-9 || math.Abs(float64(got.Distance-earth.Distance(test.at, test.point))) > 1e-6 {
			t.Errorf("%v: %+v, want %+v", test.at, got, test)
		}
	}
	if s, f, d := NearestOnLine(orb.Point{4, 6}, orb.LineString{{1, 2}}); s != 0 || f != 0 || d != 5 {
		t.Error(s, f, d)
	}
	if s, f, d := NearestOnLine(orb.Point{0, 3}, orb.LineString{{-1, 0}, {1, 0}, {-1, 0}}); s != 0 || f != 0.5 || d != 3 {
		t.Error(s, f, d) // the first of equally near ones
	}
	a, b := Place{Line: 1, Segment: 2, Fraction: 0.5}, Place{Line: 1, Segment: 2, Fraction: 0.5}
	if before(a, b) || before(b, a) {
		t.Error("a place comes before itself")
	}
	for _, other := range []Place{{Line: 2}, {Line: 1, Segment: 3}, {Line: 1, Segment: 2, Fraction: 0.75}} {
		if !before(a, other) || before(other, a) {
			t.Errorf("%+v is not before %+v", a, other)
		}
	}
}

// TestCellsOfAVicinity: a cell is radius / sqrt 2 high. A place in the same cell as a vertex is
// held, a place in the next cell is not. By hand, at the equator, where a radius of 1579.68 m gives
// cells a hundredth of a degree high and 0.010034 wide.
func TestCellsOfAVicinity(t *testing.T) {
	v := NewVicinity([]orb.LineString{{{0.001, 0.001}, {0.005, 0.005}, {0.005, 0.025}}, nil}, 1117*math.Sqrt2)
	for at, want := range map[orb.Point]bool{
		{0.0099, 0.0099}: true, {0.0001, 0.0001}: true, {0.0101, 0.001}: false, {-0.0001, 0.001}: false, {0.001, 0.0101}: false, {0.001, -0.0001}: false,
		{0.001, 0.0299}: true, {0.001, 0.0201}: true, {0.001, 0.0199}: false, {360.001, 0.001}: true,
	} {
		if v.Holds(at) != want {
			t.Errorf("%v is held: %v", at, !want)
		}
	}
}

// TestNearestBeyondTheLastSquare: one line is in the corner of the largest square searched, 4384 m
// away; another is due north, outside the square, 3300 m away. The second is nearer. By hand, at
// the equator.
func TestNearestBeyondTheLastSquare(t *testing.T) {
	corner, north := orb.Point{3100 / 111319.49, 3100 / 110574.3}, orb.Point{0, 3300 / 110574.3}
	for name, lines := range map[string][]orb.LineString{"corner first": {{corner}, {north}}, "corner alone": {{corner}}} {
		got, ok := NewIndex(lines).Nearest(orb.Point{})
		want := 3300.
		if len(lines) == 1 {
			want = 3100 * math.Sqrt2
		}
		if !ok || int(got.Line) != len(lines)-1 || math.Abs(float64(got.Distance)-want) > 1 {
			t.Errorf("%s: %+v, want %g m", name, got, want)
		}
	}
}

// TestHalfATurn: a segment that spans exactly 180 degrees of longitude runs as its coordinates say,
// not the other way round the earth; by hand.
func TestHalfATurn(t *testing.T) {
	for _, c := range []struct{ p, q, want orb.Point }{
		{orb.Point{-90, 0}, orb.Point{90, 10}, orb.Point{-45, 2.5}},
		{orb.Point{90, 0}, orb.Point{-90, 10}, orb.Point{45, 2.5}},
		{orb.Point{-90, 0}, orb.Point{90.5, 10}, orb.Point{-134.875, 2.5}}, // a little more than half a turn: the other way
	} {
		if got := Interpolate(c.p, c.q, 0.25); got != c.want {
			t.Errorf("a quarter of the way from %v to %v: %v, want %v", c.p, c.q, got, c.want)
		}
	}
}

// TestNearestEndFarAway: seen from 330 km away, the last segment of a line, 0.9 m long, is nearest;
// another line is half a metre farther. By hand.
func TestNearestEndFarAway(t *testing.T) {
	const metre = 1 / 111319.49 // degrees of longitude on the equator
	lines := []orb.LineString{
		{{3, 0.00001}, {3.1, 0.001}},
		{{3.1, 0}, {3 + 0.4*metre, 0}, {3 - 0.5*metre, 0}},
	}
	got, ok := NewIndex(lines).Nearest(orb.Point{0, 0})
	if !ok || got.Line != 1 || got.Segment != 1 || got.Fraction != 1 {
		t.Errorf("%+v", got)
	}
}

// TestNearestBySteps: on random planar lines, the nearest point found is on the line and at the
// distance returned, and no point sampled along the line is nearer; among equals the first is
// taken.
func TestNearestBySteps(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 71))
	for range 200 {
		path := orb.LineString{}
		for range 1 + r.IntN(8) {
			path = append(path, orb.Point{float64(r.IntN(20)), float64(r.IntN(20))})
		}
		xy := orb.Point{25*r.Float64() - 2, 25*r.Float64() - 2}
		segment, fraction, d := NearestOnLine(xy, path)
		at := path[segment]
		if segment+1 < len(path) {
			b := path[segment+1]
			at = orb.Point{at[0] + fraction*(b[0]-at[0]), at[1] + fraction*(b[1]-at[1])}
		}
		if off := math.Hypot(at[0]-xy[0], at[1]-xy[1]); math.Abs(off-float64(d)) > 1e-9 {
			t.Fatalf("%v of %v: says %v, lies %v off", xy, path, d, off)
		}
		for i := 0; i+1 < len(path); i++ {
			for k := range 101 {
				s := float64(k) / 100
				if off := math.Hypot(path[i][0]+s*(path[i+1][0]-path[i][0])-xy[0], path[i][1]+s*(path[i+1][1]-path[i][1])-xy[1]); off < float64(d)-1e-9 {
					t.Fatalf("%v of %v: %v, and segment %d comes to %v", xy, path, d, i, off)
				}
			}
		}
	}
	if segment, fraction, d := NearestOnLine(orb.Point{0, 1}, orb.LineString{{-3, 0}, {3, 0}, {-3, 0}}); segment != 0 || fraction != 0.5 || d != 1 {
		t.Errorf("of equals: %d, %v, %v", segment, fraction, d)
	}
	if _, _, d := NearestOnLine(orb.Point{0, 1}, nil); !math.IsInf(float64(d), 1) {
		t.Errorf("of no line: %v", d)
	}
}

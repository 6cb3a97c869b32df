package shape

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"

	"driftreach/geo"
)

// The code for outlines that rounding keeps from closing is rarely reached, and rounding decides
// when; here each part of it is tested alone, by hand.

// TestPerturbed: the first two numbers of SplitMix64 from 0, as printed by its authors' program. A
// place moves within its limit, always in the same way, -0 like 0, and many places by 0 on average:
// within four standard deviations of a mean of uniform draws.
func TestPerturbed(t *testing.T) {
	if a, b := scramble(0), scramble(0x9e3779b97f4a7c15); a != 0xe220a8397b1dcdaf || b != 0x6e789e6aa1b965f4 {
		t.Errorf("%x, %x", a, b)
	}
	const n, far = 10000, 0.25
	var sum orb.Point
	var discs []Disc
	for i := range n {
		discs = append(discs, Disc{orb.Point{float64(i), float64(i % 7)}, geo.Meters(i)})
	}
	for i, d := range perturbedDiscs(discs, far) {
		dx, dy := d.Center[0]-discs[i].Center[0], d.Center[1]-discs[i].Center[1]
		if math.Abs(dx) > far || math.Abs(dy) > far || d.Radius != discs[i].Radius || d.Center != perturbed(discs[i].Center, far) {
			t.Fatalf("%v came to %v", discs[i], d)
		}
		sum[0], sum[1] = sum[0]+dx, sum[1]+dy
	}
	if bound := 4 * far / math.Sqrt(3*n); math.Abs(sum[0]/n) > bound || math.Abs(sum[1]/n) > bound {
		t.Errorf("on the whole by %v, bound %g", orb.Point{sum[0] / n, sum[1] / n}, bound)
	}
	if perturbed(orb.Point{math.Copysign(0, -1), 1}, far) != perturbed(orb.Point{0, 1}, far) {
		t.Error("-0 moves otherwise than 0")
	}
	for n, want := range map[int]int{0: 512, 1: 512, 512: 512, 1024: 256, 1 << 20: 32} {
		if got := finestOf(n); got != want {
			t.Errorf("%d circles: %d sides, want %d", n, got, want)
		}
	}
}

// TestUntilClosed: shapes are tried as they are, then moved by 4, 16, 64 and 256 micrometres, until
// one attempt closes; what does not close then is told. Places of areas move like centres of discs.
func TestUntilClosed(t *testing.T) {
	moves := []float64{0, 4e-6, 1.6e-5, 6.4e-5, 2.56e-4}
	for closes := range 6 {
		var tried []float64
		got, ok := untilClosed(func(far float64) (int, bool) {
			tried = append(tried, far)
			return len(tried), len(tried) == closes+1
		})
		if n := min(closes+1, len(moves)); ok != (closes < len(moves)) || got != n || !slices.Equal(tried, moves[:n]) {
			t.Errorf("attempt %d closes: %d (%v) after %v", closes, got, ok, tried)
		}
	}
	discs := []Disc{{orb.Point{3, 4}, 5}}
	if got := perturbedDiscs(discs, 0); got[0] != discs[0] {
		t.Errorf("not moved: %v", got)
	}
	square := squareAt(3, 4, 1)
	for k, p := range perturbedArea(square, 0.25)[0][0] {
		if from := square[0][0][k]; p != perturbed(from, 0.25) || p == from {
			t.Errorf("%v came to %v", from, p)
		}
	}
}

// TestByPolygons: the polygon library's result for two discs equals that of their arcs, to a
// thousandth: the closing of TestClosingOfTwoDiscs, and without a gap the area that a square adds
// to discs.
func TestByPolygons(t *testing.T) {
	discs := []Disc{{orb.Point{0, 0}, 10}, {orb.Point{24, 0}, 10}, {Radius: -1}}
	got, want := closePolygons(discs, 12), CloseDiscs(discs, 12)
	if math.Abs(float64(got/want-1)) > 1e-3 || want <= UnionDiscsArea(discs) {
		t.Errorf("closed by polygons %v, by arcs %v", got, want)
	}
	for name, c := range map[string]struct {
		drawn orb.MultiPolygon
		want  float64
	}{"apart": {squareAt(40, 0, 4), 16}, "inside": {squareAt(-2, -2, 4), 0}, "around": {squareAt(-20, -20, 100), 10000 - 200*math.Pi}} {
		if got := CloseBeside(discs, c.drawn, 0); math.Abs(float64(got)-c.want) > 1e-4 {
			t.Errorf("%s: without a gap %v, want %v", name, got, c.want)
		}
	}
	if got := ClosingSkyline(discs, 0).Area(); math.Abs(float64(got)-200*math.Pi) > 1e-4 {
		t.Errorf("skyline without a gap: %v, want %v", got, 200*math.Pi)
	}
}

// TestUnder: places within rho of an outline and out of its reach: of a disc of 5 m enlarged by 2,
// and of the sides and a corner of a square of 60 m enlarged by 5.
func TestUnder(t *testing.T) {
	g := newGroup([]Disc{{orb.Point{0, 0}, 5}}, 2, 0)
	for p, want := range map[orb.Point]bool{{6, 0}: true, {0, -8.9}: true, {3, 3}: false, {9.1, 0}: false, {0, 9.1}: false, {6.5, 6.5}: false} {
		at := orb.Point{g.circles[0].x + p[0], g.circles[0].y + p[1]}
		if got := g.under(g.exposed(), at, 2); got != want {
			t.Errorf("disc, %v: %v", p, got)
		}
	}
	s := newCapsules([]orb.LineString{orb.LineString(squareAt(0, 0, 60)[0][0])}, []float64{5})
	s.hide(nil)
	arcs, ok := s.exposed(1)
	if !ok {
		t.Fatal("the square shows nothing")
	}
	for p, want := range map[orb.Point]bool{{30, -2}: true, {62, 30}: true, {30, -11}: false, {-3, -3}: true, {-8, -8}: false, {30, 30}: false} {
		if got := s.under(arcs, orb.Point{p[0] - s.origin[0], p[1] - s.origin[1]}, 5); got != want {
			t.Errorf("square, %v: %v", p, got)
		}
	}
}

// TestOnGridByHand: on tenths the triangle has half of 10 by 10; a slit that closes leaves no
// trace, nor does a patch smaller than a step.
func TestOnGridByHand(t *testing.T) {
	slit := orb.Polygon{{{0, 0}, {10, 0}, {10, 10}, {5.01, 10}, {5.01, 5}, {4.99, 5}, {4.99, 10}, {0, 10}, {0, 0}}}
	speck := squareAt(20, 20, 0.01)
	for name, c := range map[string]struct {
		mp   orb.MultiPolygon
		want float64
	}{
		"triangle": {orb.MultiPolygon{{{{0.04, 0.04}, {10.03, 0}, {0, 9.96}, {0.04, 0.04}}}}, 50},
		"slit":     {orb.MultiPolygon{slit}, 100}, "slit and speck": {append(orb.MultiPolygon{slit}, speck...), 100},
	} {
		got := OnGrid(c.mp, 10)
		if math.Abs(float64(Area(got))-c.want) > 1e-9 || Valid(got) != nil {
			t.Errorf("%s: %v, %v", name, got, Valid(got))
		}
	}
	if got := OnGridOfArea(speck, 10, 1e-4, 1e-4); Area(got) != 0 {
		t.Errorf("a speck: %v", got)
	}
}

// TestOfNothing: shapes without area, side or place give nothing; an empty area among others, or a
// repeated corner, changes nothing: a square of 4 m has a growth of 16 m2.
func TestOfNothing(t *testing.T) {
	if signedArea(orb.Ring{{0, 0}, {1, 1}}) != 0 || libraryBuffer(nil, 1, 8) != nil || libraryBuffer(orb.MultiLineString{{}, {{math.NaN(), 0}, {1, 1}}}, 1, 8) != nil {
		t.Error("something came of nothing")
	}
	if in, on := ringContains(nil, orb.Point{}); in || on {
		t.Error("a ring without places holds one")
	}
	square := orb.MultiPolygon{{{{0, 0}, {4, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}}}
	e := ExposuresOf([]orb.MultiPolygon{nil, square})
	if e[0] != (Exposure{}) || math.Abs(float64(e[1].Swell)-16) > 1e-9 || math.Hypot(e[1].Move[0], e[1].Move[1]) > 1e-9 {
		t.Errorf("%+v", e)
	}
}

// TestRingsOfAComponent: a component has one outline, a second is rejected, and an invalid one too.
func TestRingsOfAComponent(t *testing.T) {
	outer, hole := squareAt(0, 0, 4)[0][0], orb.Ring{{1, 1}, {1, 2}, {2, 2}, {2, 1}, {1, 1}}
	r := newRings()
	if !r.add(0, outer) || !r.add(0, hole) || r.add(0, squareAt(9, 9, 1)[0][0]) {
		t.Error("what was taken")
	}
	if mp, ok := r.polygons(true); !ok || Area(mp) != 15 {
		t.Errorf("%v, %v", mp, ok)
	}
	bare := newRings()
	bare.add(0, hole)
	if mp, ok := bare.polygons(false); ok {
		t.Errorf("a hole alone: %v", mp)
	}
	outside := newRings()
	outside.add(0, outer)
	outside.add(0, orb.Ring{{8, 8}, {8, 9}, {9, 9}, {9, 8}, {8, 8}})
	if mp, ok := outside.polygons(true); ok {
		t.Errorf("a hole outside: %v", mp)
	}
}

// TestOverlayAsksAgain: areas that the library refuses are repaired and passed once more; a second
// refusal is a programming error and panics.
func TestOverlayAsksAgain(t *testing.T) {
	bow := orb.MultiPolygon{{{{0, 0}, {4, 4}, {4, 0}, {0, 4}, {0, 0}}}} // two triangles of 4
	refused := errors.New("refused")
	got := overlay(func(repair bool) (geom.Geometry, error) {
		if !repair {
			return geom.Geometry{}, refused
		}
		return prepared(bow, repair), nil
	})
	if area := got.Area(); math.Abs(area-8) > 1e-9 {
		t.Errorf("%v", area)
	}
	defer func() {
		if recover() == nil {
			t.Error("a second refusal went by")
		}
	}()
	overlay(func(bool) (geom.Geometry, error) { return geom.Geometry{}, refused })
}

// TestWhatDoesNotClose: parts that rounding might leave without a partner are told, not guessed: a
// side with a loose end, three crossings of a circle and a capsule, two entries in a row.
func TestWhatDoesNotClose(t *testing.T) {
	triangle := orb.Ring{{0, 0}, {4, 0}, {0, 4}, {0, 0}}
	whole := appendBorders(nil, triangle, true, 0)
	if mp, ok := facesOf(whole); !ok || Area(mp) != 8 {
		t.Errorf("a triangle: %v, %v", mp, ok)
	}
	for name, all := range map[string][]border{
		"a side alone": whole[:1:1], "a side missing": whole[:2:2], "a side too many": append(slices.Clone(whole), border{from: orb.Point{4, 0}, to: orb.Point{9, 9}}),
	} {
		if mp, ok := facesOf(slices.Clone(all)); ok {
			t.Errorf("%s: %v", name, mp)
		}
	}
	in, out := event{angle: 1, element: 3, enters: true}, event{angle: 2, element: 4}
	if got, ok := pairEvents(nil, []event{in, out}); !ok || !slices.Equal(got, []stretch{{1, 2, 3, 4}}) {
		t.Errorf("in and out: %v, %v", got, ok)
	}
	for name, events := range map[string][]event{"in": {in}, "in, out, in": {in, out, in}, "in and in": {in, in}, "out and out": {out, out}} {
		if got, ok := pairEvents(nil, events); ok || len(got) != 0 && name != "in, out, in" {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// TestSearchForNearSidesEnds: the search for sides near each other ends with the first that the
// caller wants no more of: a side of no length, two neighbours that fold back, two of other rings.
func TestSearchForNearSidesEnds(t *testing.T) {
	for name, mp := range map[string]orb.MultiPolygon{
		"sides of no length":      {{{{0, 0}, {0, 0}, {0, 0}, {9, 0}, {0, 9}, {0, 0}}}},
		"neighbours":              {{{{0, 0}, {1e-5, 0}, {2e-5, 1e-5}, {3e-5, 3e-5}, {9, 9}, {0, 9}, {0, 0}}}},
		"two squares, a hair off": append(squareAt(0, 0, 4), squareAt(4.00001, 0, 4)...),
	} {
		asked, all := 0, 0
		eachNear(mp, 1e-3, func(_, _ *side) bool { asked++; return false })
		eachNear(mp, 1e-3, func(_, _ *side) bool { all++; return true })
		if asked != 1 || all < 2 {
			t.Errorf("%s: asked %d times, and %d times when it goes on", name, asked, all)
		}
	}
	if g := toGeometry(orb.MultiPolygon{{{{0, 0}, {1, 1}}, {{0, 0}, {0, 9}, {9, 9}, {0, 0}}}}); !g.IsEmpty() {
		t.Errorf("a hole without an outline: %v", g)
	}
}

// TestArcsJoinedByPlace: where several circles meet, an arc goes on at the nearest start that is
// left within a micrometre, and each start is taken once. By hand.
func TestArcsJoinedByPlace(t *testing.T) {
	at := func(x float64) orb.Point { return orb.Point{x * 1e-7, 0} }
	for name, c := range map[string]struct {
		ends, starts []float64 // tenths of a micrometre; arc k begins at starts[k] and ends at ends[k]
		used         int       // arcs whose start is taken, the first ones
		want         []int32   // by arc; nil where they cannot be joined
	}{
		"each to the nearest that is left": {[]float64{1000, 1005, 0}, []float64{0, 1003, 1001}, 0, []int32{2, 1, 0}},
		"the first takes the nearer":       {[]float64{1000, 1001}, []float64{1001, 1004}, 0, []int32{0, 1}},
		"almost a micrometre":              {[]float64{0}, []float64{9.5}, 0, []int32{0}},
		"more than a micrometre":           {[]float64{0}, []float64{10.5}, 0, nil},
		"too few starts":                   {[]float64{0, 1}, []float64{0, 1}, 1, nil},
		"a start in the wrong place":       {[]float64{0, 500}, []float64{0, 1}, 0, nil},
	} {
		arcs, next, used, open := make([]arc, len(c.ends)), make([]int32, len(c.ends)), make([]bool, len(c.ends)), []int{}
		for k := range arcs {
			arcs[k].first, arcs[k].last = at(c.starts[k]), at(c.ends[k])
			used[k], open = k < c.used, append(open, k)
		}
		if ok := joinOpen(arcs, next, used, open); ok != (c.want != nil) || ok && !slices.Equal(next, c.want) {
			t.Errorf("%s: %v (%v), want %v", name, next, ok, c.want)
		}
	}
}

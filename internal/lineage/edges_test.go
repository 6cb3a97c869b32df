package lineage

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
)

// TestCrossings: segments that share a point, by hand, at lengths far below a metre and of some
// metres. Touching counts, and so does overlapping; a segment of length 0 crosses nothing.
func TestCrossings(t *testing.T) {
	for _, scale := range []float64{0.01, 1, 100} {
		for _, test := range []struct {
			name       string
			a, b, c, d orb.Point
			want       bool
		}{
			{"across", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{0.5, -0.5}, orb.Point{0.5, 0.5}, true},
			{"short of it", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{0.5, 0.5}, orb.Point{0.5, 1}, false},
			{"below it", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{0.5, -0.5}, orb.Point{0.5, -1}, false},
			{"beyond its end", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{1.25, -0.5}, orb.Point{1.25, 0.5}, false},
			{"before its beginning", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{-0.25, -0.5}, orb.Point{-0.25, 0.5}, false},
			{"at its end", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{1, 0}, orb.Point{1, 1}, true},
			{"at a tee", orb.Point{0, 0}, orb.Point{1, 0}, orb.Point{0.5, 0}, orb.Point{0.5, 1}, true},
			{"of no length", orb.Point{0.5, 0}, orb.Point{0.5, 0}, orb.Point{0, 0}, orb.Point{1, 0}, false},
		} {
			s := func(p orb.Point) orb.Point { return orb.Point{p[0] * scale, p[1] * scale} }
			if got := crosses(s(test.a), s(test.b), s(test.c), s(test.d)); got != test.want {
				t.Errorf("%s, times %g: %v", test.name, scale, got)
			}
		}
	}
	if side(orb.Point{0, 0}, orb.Point{0, 1}, orb.Point{-1, 0}) <= 0 || side(orb.Point{0, 0}, orb.Point{0, 1}, orb.Point{1, 0}) >= 0 {
		t.Error("west is not to the left of north")
	}
}

// TestSmallShapesHaveAnInside: as TestInsideOfAShape, in hundredths of a metre.
func TestSmallShapesHaveAnInside(t *testing.T) {
	u := orb.MultiPolygon{{{{0, 0}, {0.75, 0}, {0.75, 0.75}, {0.5, 0.75}, {0.5, 0.25}, {0.125, 0.25}, {0.125, 0.75}, {0, 0.75}, {0, 0}}}}
	if got := inside(u); got != (orb.Point{0.625, 0.375}) { // 0.5 to 0.75 is wider than 0 to 0.125
		t.Error(got)
	}
}

// TestFullyInfestedStandsHaveNoPerimeter: two plants of 100 m2, 16 m apart, are less than a tenth
// of an acre and count as fully infested: their perimeter is the footprint. A plant in the gap
// between them is linked by distance: 8 m less radii of 5.642 and 1.262 m. By hand.
func TestFullyInfestedStandsHaveNoPerimeter(t *testing.T) {
	pair, one := rowOf("k", 0, 16), rowOf("n", 8)
	one[0].PatchArea = 5
	before := Before{Records: pair, Known: []Known{{Stand: stand.Build(pair, []int32{0, 1}, finelyDrawn())}}}
	links := newLinker(before, Now{Records: one, Stands: []stand.Stand{stand.Build(one, []int32{0}, finelyDrawn())}}, DefaultSettings(), 1).all()
	if len(links) != 1 {
		t.Fatal(links)
	}
	near(t, "apart", float64(links[0].Apart), 8-5.642-1.262, 0.05)
}

// TestWideWaterBesideALine: a place surveyed on foot, and a river 30 m wide whose middle is 18 m
// east, so that it begins 3 m away. By hand, of a circle of 20 m the part west of that: a half disc
// of 628.3 m2 and 3 sqrt(391) + 400 asin(0.15) = 119.6, of the 4000 m2 drawn.
func TestWideWaterBesideALine(t *testing.T) {
	before := knownOf(t, []survey.Record{drawn("d", -50, -20, 50, 20)})
	e := Evidence{
		Given: true, Ground: []surveyed.Ground{{Lines: orb.MultiLineString{path(0, 0, 0, 0.01)}}},
		Water: Water{linear.LinesOf([]orb.LineString{path(18, -400, 18, 400)}), []geo.Meters{15}},
	}
	l := Trace(before, Now{}, e, DefaultSettings(), 1)
	near(t, "share", l.Looks[0].Share, 747.9/4000, 3e-3) // drawn with 32 sides
}

// TestBoxesAround: a box grown by 1113.2 m at the equator is wider by a little more than a
// hundredth of a degree of longitude, and higher by a little more than 0.01004 degrees of latitude
// (1110.6 m); at 60 N by 0.02 degrees of longitude; at the pole by the whole turn. By hand.
func TestBoxesAround(t *testing.T) {
	for _, test := range []struct{ lat, lon, more float64 }{{0, 0.01, 1e-4}, {60, 0.01996, 2e-4}} {
		got := grown(orb.Bound{Min: orb.Point{10, test.lat}, Max: orb.Point{11, test.lat}}, 1113.2)
		for what, d := range map[string]float64{"west": 10 - got.Min[0], "east": got.Max[0] - 11} {
			if d < test.lon || d > test.lon+test.more {
				t.Errorf("%g N, %s: %g", test.lat, what, d)
			}
		}
		for what, d := range map[string]float64{"south": test.lat - got.Min[1], "north": got.Max[1] - test.lat} {
			if d < 0.01 || d > 0.0101 {
				t.Errorf("%g N, %s: %g", test.lat, what, d)
			}
		}
	}
	if got := grown(orb.Bound{Min: orb.Point{10, 89.99}, Max: orb.Point{10, 89.99}}, 5000); got.Max[1] != 90 || got.Max[0] < 180 {
		t.Errorf("%v", got)
	}
	var b boxes
	b.add(orb.Bound{Min: orb.Point{179.9, 0}, Max: orb.Point{180.1, 1}}, 7)
	b.add(orb.Bound{Min: orb.Point{-179.95, 0}, Max: orb.Point{-179.8, 1}}, 3)
	b.add(orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{1, 1}}, 5)
	for _, test := range []struct {
		at   orb.Point
		want []int32
	}{
		{orb.Point{-179.92, 0.5}, []int32{3, 7}}, {orb.Point{180.08, 0.5}, []int32{3, 7}}, {orb.Point{179.95, 1}, []int32{7}}, {orb.Point{-180.05, 1}, []int32{7}},
		{orb.Point{0, 1}, []int32{5}}, {orb.Point{360.5, 0.5}, []int32{5}}, {orb.Point{0.5, 1.01}, nil}, {orb.Point{1.01, 0.5}, nil},
	} {
		if got := b.touching(orb.Bound{Min: test.at, Max: test.at}); !slices.Equal(got, test.want) {
			t.Errorf("at %v: %v, want %v", test.at, got, test.want)
		}
	}
	if !meets(orb.Bound{Min: orb.Point{179.9, 0}, Max: orb.Point{180.1, 1}}, orb.Bound{Min: orb.Point{-179.95, 1}, Max: orb.Point{-179.8, 2}}) ||
		meets(orb.Bound{Min: orb.Point{179.9, 0}, Max: orb.Point{180.1, 1}}, orb.Bound{Min: orb.Point{-179.85, 0}, Max: orb.Point{-179.8, 2}}) {
		t.Error("boxes across the antimeridian")
	}
}

// TestPlacesInCells: positions on the borders of cells, at the corners of a box and across the
// antimeridian are visited, positions a cell farther away are not; and the search stops when look
// returns false.
func TestPlacesInCells(t *testing.T) {
	places := []orb.Point{{0, 0}, {0.5, 0.5}, {1, 1}, {2.5, 0.5}, {0.5, 2.5}, {179.5, 0.5}, {-179.5, 0.5}, {-0.5, -0.5}}
	s := newSpots(len(places), 1, func(i int32) orb.Point { return places[i] })
	in := func(box orb.Bound) (found []int32) {
		s.in(box, func(i int32) bool {
			found = append(found, i)
			return true
		})
		slices.Sort(found)
		return found
	}
	for _, test := range []struct {
		box  orb.Bound
		want []int32
	}{
		{orb.Bound{Min: orb.Point{0.2, 0.2}, Max: orb.Point{0.8, 0.8}}, []int32{0, 1}}, {orb.Bound{Min: orb.Point{0.2, 0.2}, Max: orb.Point{1, 1}}, []int32{0, 1, 2}},
		{orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{2, 0}}, []int32{0, 1, 3}}, {orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{0, 2}}, []int32{0, 1, 4}},
		{orb.Bound{Min: orb.Point{179.2, 0.1}, Max: orb.Point{180.8, 0.2}}, []int32{5, 6}}, {orb.Bound{Min: orb.Point{-0.1, -0.1}, Max: orb.Point{-0.1, -0.1}}, []int32{7}},
	} {
		if got := in(test.box); !slices.Equal(got, test.want) {
			t.Errorf("%v: %v, want %v", test.box, got, test.want)
		}
	}
	asked := 0
	if s.in(orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{2, 2}}, func(int32) bool { asked++; return false }) || asked != 1 {
		t.Errorf("asked %d times", asked)
	}
}

// TestReachOfPatches: a drawn patch reaches from its position to its farthest corner, a measured
// one to the rim of its disc, an unmeasured one to that of the default; by hand.
func TestReachOfPatches(t *testing.T) {
	s := DefaultSettings()
	corner := drawn("d", 0, 0, 6, 8) // its middle to a corner: 3, 4
	near(t, "drawn", float64(radiusOf(&corner, s)), 5, 1e-6)
	near(t, "measured", float64(radiusOf(&survey.Record{PatchArea: 100}, s)), 5.6419, 1e-4)
	near(t, "default", float64(radiusOf(&survey.Record{}, s)), 11.3497, 1e-4) // 404.6856 m2
	v := (&witness{settings: s}).viewer(&Known{Stand: stand.Stand{Center: orb.Point{-40, -33}}}, nil)
	near(t, "area drawn", float64(v.areaOf(&corner)), 48, 1e-3)
	near(t, "area measured", float64(v.areaOf(&survey.Record{PatchArea: 100})), 100, 1e-9)
	near(t, "default area", float64(v.areaOf(&survey.Record{})), 404.68564, 1e-4)
	records := []survey.Record{corner, {PatchArea: 100, Position: base.Inverse(orb.Point{0, 0})}}
	p := newPatches(records, func(r *survey.Record) (geo.Meters, bool) { return radiusOf(r, s), true })
	frame := earth.NewFrame(orb.Point{-40, -33})
	for _, test := range []struct {
		record int32
		at     orb.Point
		d      geo.Meters
		want   bool
	}{
		{0, orb.Point{3, 4}, 0, true}, {0, orb.Point{7, 4}, 0, false}, {0, orb.Point{7, 4}, 1.01, true}, {0, orb.Point{7, 4}, 0.99, false}, {0, orb.Point{9, 12}, 4.9, false}, {0, orb.Point{9, 12}, 5.1, true},
		{1, orb.Point{5.6, 0}, 0, true}, {1, orb.Point{5.7, 0}, 0, false}, {1, orb.Point{6.6, 0}, 1, true},
	} {
		if got := p.within(frame, test.record, test.at, test.d); got != test.want {
			t.Errorf("record %d at %v, %g m: %v", test.record, test.at, float64(test.d), got)
		}
	}
}

// TestShareOfGroundKnown: by hand, for a footprint 100 m wide with 40 m on surveyed ground, in one
// piece and in two; wholly on it and off it; across the antimeridian; an empty footprint counts as
// 1.
func TestShareOfGroundKnown(t *testing.T) {
	l := NewSurveyed(orb.MultiPolygon{box(0, 0, 40, 100), box(200, 0, 220, 100), box(240, 0, 260, 100), box(1000, 0, 2000, 1000)})
	for _, test := range []struct {
		box  orb.Polygon
		want float64
	}{
		{box(0, 0, 100, 100), 0.4}, {box(180, 0, 280, 100), 0.4}, {box(500, 0, 600, 100), 0}, {box(1200, 200, 1300, 300), 1}, {box(0, 0, 40, 100), 1}, {box(0, 0, 40.1, 100), 1},
	} {
		near(t, "share", l.Share(stand.Pack(orb.MultiPolygon{test.box})), test.want, 1e-4)
	}
	if got := l.Share(stand.Outline{}); got != 1 {
		t.Errorf("of nothing %g", got)
	}
	east := orb.Polygon{{{179.999, 0}, {180.001, 0}, {180.001, 0.001}, {179.999, 0.001}, {179.999, 0}}}
	l = NewSurveyed(orb.MultiPolygon{east})
	for _, west := range []float64{179.9995, -180.0005, 180.0005, -179.9995} { // the last two are half beyond the antimeridian
		half := orb.Polygon{{{west, 0}, {west + 0.001, 0}, {west + 0.001, 0.001}, {west, 0.001}, {west, 0}}}
		want := 1.0
		if west == 180.0005 || west == -179.9995 {
			want = 0.5
		}
		near(t, "across", l.Share(stand.Pack(orb.MultiPolygon{half})), want, 1e-4)
	}
}

// TestMeetsGroundKnown: by hand, for a box beside surveyed ground, touching it, within it and around it; and
// beyond 180 degrees, where a place of the box may be ground on the other side.
func TestMeetsGroundKnown(t *testing.T) {
	l := NewSurveyed(orb.MultiPolygon{box(0, 0, 40, 100)})
	for _, test := range []struct {
		box  orb.Bound
		want bool
	}{
		{box(41, 0, 60, 100).Bound(), false}, {box(0, 101, 40, 120).Bound(), false}, {box(39, 0, 60, 100).Bound(), true},
		{box(10, 10, 20, 20).Bound(), true}, {box(-10, -10, 50, 110).Bound(), true},
		{orb.Bound{Min: orb.Point{179, 40}, Max: orb.Point{180, 41}}, true}, {orb.Bound{Min: orb.Point{179, 40}, Max: orb.Point{179.9, 41}}, false},
		{orb.Bound{Min: orb.Point{-180.1, 40}, Max: orb.Point{-179, 41}}, true}, {orb.Bound{Min: orb.Point{-180, 40}, Max: orb.Point{-179, 41}}, false},
	} {
		if got := l.Meets(test.box); got != test.want {
			t.Errorf("%v: %v", test.box, got)
		}
	}
}

// TestSidesAwayFromTheOrigin: of the line from (10, 20) to (13, 24) the place (10, 25) is to the
// left, with twice the area of the triangle, 3 x 5
// - 4 x 0 = 15, and (14, 20) to the right, with 3 x 0 - 4 x 4 = -16; by hand. Segments there cross as they do at the origin.
func TestSidesAwayFromTheOrigin(t *testing.T) {
	a, b := orb.Point{10, 20}, orb.Point{13, 24}
	for c, want := range map[orb.Point]float64{{10, 25}: 15, {14, 20}: -16, {16, 28}: 0, {7, 16}: 0, {11.5, 22}: 0} {
		if got := side(a, b, c); got != want {
			t.Errorf("%v: %g, want %g", c, got, want)
		}
	}
	for _, test := range []struct {
		c, d orb.Point
		want bool
	}{
		{orb.Point{10, 24}, orb.Point{13, 20}, true}, {orb.Point{11.5, 22}, orb.Point{20, 22}, true}, {orb.Point{10, 24}, orb.Point{11, 23}, false}, {orb.Point{14, 25}, orb.Point{15, 20}, false},
		{orb.Point{13, 24}, orb.Point{20, 30}, true}, {orb.Point{9, 19}, orb.Point{8, 30}, false},
	} {
		if crosses(a, b, test.c, test.d) != test.want || crosses(test.c, test.d, a, b) != test.want {
			t.Errorf("%+v", test)
		}
	}
}

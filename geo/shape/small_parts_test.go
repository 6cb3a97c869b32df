package shape

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// backward returns an area with each ring walked the other way.
func backward(mp orb.MultiPolygon) orb.MultiPolygon {
	out := mp.Clone()
	for _, polygon := range out {
		for _, ring := range polygon {
			slices.Reverse(ring)
		}
	}
	return out
}

// TestPackedRings: each ring of packed polygons comes once, in order, outer rings before their
// holes, without the closing vertex; by hand.
func TestPackedRings(t *testing.T) {
	mp := append(orb.MultiPolygon{{squareAt(0, 0, 9)[0][0], backward(squareAt(2, 2, 3))[0][0]}}, squareAt(20, -7, 4)...)
	var got orb.MultiPolygon
	PackOnSteps(mp, 1).packed.Each(func(outer bool, ring []Step) {
		var r orb.Ring
		for _, s := range ring {
			r = append(r, orb.Point{float64(s[0]), float64(s[1])})
		}
		if outer {
			got = append(got, nil)
		}
		got[len(got)-1] = append(got[len(got)-1], append(r, r[0]))
	})
	if !got.Equal(mp) {
		t.Errorf("%v, want %v", got, mp)
	}
}

// TestMeetingAreasOfTwoPolygons: a box on the outline of one polygon of an area and inside another
// of the same area is covered by that area; on two outlines of one area it is across it once. By
// hand.
func TestMeetingAreasOfTwoPolygons(t *testing.T) {
	m := NewCoverage([]orb.MultiPolygon{squareAt(-20, -20, 5), append(squareAt(0, 0, 4), squareAt(3, -10, 30)...), append(squareAt(50, 0, 4), squareAt(54, 0, 4)...)})
	for _, c := range []struct {
		box    orb.Bound
		across []int32
		cover  int32
	}{
		{orb.Bound{Min: orb.Point{3.5, 1}, Max: orb.Point{4.5, 2}}, nil, 1},
		{orb.Bound{Min: orb.Point{2.5, -3}, Max: orb.Point{3.2, -2}}, []int32{1}, -1},
		{orb.Bound{Min: orb.Point{53, 1}, Max: orb.Point{55, 2}}, []int32{2}, -1},
		{orb.Bound{Min: orb.Point{-19, -19}, Max: orb.Point{-18, -18}}, nil, 0},
		{orb.Bound{Min: orb.Point{-60, -60}, Max: orb.Point{60, 60}}, []int32{0, 1, 2}, -1},
		{orb.Bound{Min: orb.Point{-60, -60}, Max: orb.Point{-50, -50}}, nil, -1},
	} {
		if across, cover := m.Meeting(c.box); !slices.Equal(across, c.across) || cover != c.cover {
			t.Errorf("%v: across %v, within %d; want %v, %d", c.box, across, cover, c.across, c.cover)
		}
	}
}

// TestHalvesJoined: of two halves of a union only the polygons whose boxes meet are dissolved, by
// hand: two squares of 16 m2 that share 8, one that is apart, and one that only touches a box.
func TestHalvesJoined(t *testing.T) {
	corner := orb.MultiPolygon{{{{20, 20}, {30, 20}, {20, 30}, {20, 20}}}} // half of a box
	got := joinHalves(append(squareAt(0, 0, 4), corner...), append(squareAt(2, 0, 4), append(squareAt(28, 28, 2), squareAt(90, 0, 4)...)...))
	if area := float64(Area(got)); len(got) != 4 || math.Abs(area-(24+50+4+16)) > 1e-9 || Valid(got) != nil {
		t.Errorf("%d polygons of %v m2: %v", len(got), area, got)
	}
}

// TestExposureOfRingsEitherWay: a square ring of ground, 6 m wide outside and 2 m inside, grows as
// much whichever way its rings are walked: by the line integral of place times normal over both
// outlines, half of it 36 less 4. By hand.
func TestExposureOfRingsEitherWay(t *testing.T) {
	ground := orb.MultiPolygon{{squareAt(10, 10, 6)[0][0], backward(squareAt(12, 12, 2))[0][0]}}
	for name, mp := range map[string]orb.MultiPolygon{"as they are": ground, "backward": backward(ground)} {
		e := ExposuresOf([]orb.MultiPolygon{mp})[0]
		if math.Abs(float64(e.Swell)-32) > 1e-9 || math.Hypot(e.Move[0], e.Move[1]) > 1e-9 {
			t.Errorf("%s: %+v, want 32", name, e)
		}
	}
}

// TestEmptyPartsOfShapes: a polygon without rings among others changes no box, and a grid of no
// capsules finds none.
func TestEmptyPartsOfShapes(t *testing.T) {
	box := exteriorBox(append(orb.MultiPolygon{{}}, squareAt(3, 4, 5)...))
	if want := (orb.Bound{Min: orb.Point{3, 4}, Max: orb.Point{8, 9}}); box != want {
		t.Errorf("box %v, want %v", box, want)
	}
	if g := newCapsules(nil, nil).grid; g.columns != 0 || len(g.items) != 0 {
		t.Errorf("a grid of nothing: %+v", g)
	}
	if got := BufferLines(nil, nil, 8, 1); len(got) != 0 {
		t.Errorf("around no line: %v", got)
	}
}

// TestSketchesOfDiscs: a sketch of discs has the exact area of their union, and where they keep
// clear of one another it is the drawing itself. By hand: two discs of 10 m, 10 m apart.
func TestSketchesOfDiscs(t *testing.T) {
	two := []Disc{{orb.Point{3, 4}, 10}, {orb.Point{13, 4}, 10}}
	lens := 2*100*math.Acos(0.5) - 5*math.Sqrt(400-100)
	if got := SketchDiscs(two); len(got) != 1 || math.Abs(float64(Area(got))-(200*math.Pi-lens)) > 1e-6 || !got.Equal(UnionDiscs(two)) {
		t.Errorf("two discs: %v", got)
	}
	for k, discs := range stands(11, 20) {
		got, want := SketchDiscs(discs), UnionDiscsArea(discs)
		if math.Abs(float64(Area(got)-want)) > 1e-8*float64(want) {
			t.Errorf("stand %d: %v m2, want %v", k, Area(got), want)
		}
		if whole := UnionDiscs(discs); !got.Equal(whole) {
			t.Errorf("stand %d is sketched otherwise than drawn", k)
		}
	}
	if got := SketchDiscs(nil); len(got) != 0 {
		t.Errorf("of nothing: %v", got)
	}
}

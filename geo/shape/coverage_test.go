package shape

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// boxOf returns the box from x, y.
func boxOf(x, y, width, height float64) orb.Bound {
	return orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x + width, y + height}}
}

// estates are two squares side by side, one with a hole above them that the fourth fills, and a
// later one that covers the first two.
func estates() *Coverage {
	holed := rectangle(0, 10, 20, 10)
	holed[0] = append(holed[0], orb.Ring{{8, 13}, {8, 17}, {12, 17}, {12, 13}, {8, 13}})
	return NewCoverage([]orb.MultiPolygon{rectangle(0, 0, 10, 10), rectangle(10, 0, 10, 10), holed, rectangle(8, 13, 4, 4), rectangle(5, 5, 30, 2), nil})
}

// Derived by hand.
func TestMeetingByHand(t *testing.T) {
	for _, c := range []struct {
		name   string
		box    orb.Bound
		across []int32
		cover  int32
	}{
		{"inside the first", boxOf(1, 1, 2, 2), nil, 0},
		{"a place inside", boxOf(3, 3, 0, 0), nil, 0},
		{"outside all", boxOf(50, 50, 2, 2), nil, -1},
		{"across two", boxOf(9, 1, 2, 2), []int32{0, 1}, -1},
		{"touching the border from the left", boxOf(8, 1, 2, 2), []int32{0, 1}, -1},
		{"in the hole, which another fills", boxOf(9, 14, 1, 1), nil, 3},
		{"around the hole", boxOf(7, 12, 6, 6), []int32{2, 3}, -1},
		{"around everything", boxOf(-5, -5, 60, 60), []int32{0, 1, 2, 3, 4}, -1},
		{"under the later one", boxOf(1, 4, 5, 4), nil, 0},
		{"half on the later one", boxOf(22, 4, 5, 1.5), []int32{4}, -1},
		{"within the later one", boxOf(22, 5.5, 5, 1), nil, 4},
		{"no edge near, boxes meet", boxOf(15, 11, 1, 1), nil, 2},
	} {
		across, cover := estates().Meeting(c.box)
		if d := cmp.Diff(c.across, across); d != "" || cover != c.cover {
			t.Errorf("%s: across %v, cover %d, want %v, %d", c.name, across, cover, c.across, c.cover)
		}
	}
}

// Derived by hand.
func TestAlongByHand(t *testing.T) {
	for _, c := range []struct {
		name string
		a, b orb.Point
		want []Part
	}{
		{"within one", orb.Point{1, 1}, orb.Point{2, 2}, []Part{{0, 1, 0}}},
		{"outside all", orb.Point{40, 1}, orb.Point{42, 2}, []Part{{0, 1, -1}}},
		{"in, across, out", orb.Point{-10, 2}, orb.Point{30, 2}, []Part{{0, 0.25, -1}, {0.25, 0.5, 0}, {0.5, 0.75, 1}, {0.75, 1, -1}}},
		{"through a hole that another fills", orb.Point{0, 15}, orb.Point{20, 15}, []Part{{0, 0.4, 2}, {0.4, 0.6, 3}, {0.6, 1, 2}}},
		{"along a border", orb.Point{10, 0}, orb.Point{10, 10}, []Part{{0, 1, 0}}},
		{"along a border and on", orb.Point{10, -10}, orb.Point{10, 10}, []Part{{0, 0.5, -1}, {0.5, 1, 0}}},
		{"out of what overlaps", orb.Point{15, 6}, orb.Point{35, 6}, []Part{{0, 0.25, 1}, {0.25, 1, 4}}},
		{"no length", orb.Point{4, 4}, orb.Point{4, 4}, []Part{{0, 1, 0}}},
		{"corner to corner", orb.Point{-10, 20}, orb.Point{10, 0}, []Part{{0, 0.5, -1}, {0.5, 1, 0}}},
	} {
		if d := cmp.Diff(c.want, estates().Along(nil, c.a, c.b)); d != "" {
			t.Errorf("%s: %s", c.name, d)
		}
	}
}

type coverageFile struct {
	Cells      []orb.Polygon
	Footprints []struct {
		Ring   orb.Ring
		Area   float64
		Shares []float64
	}
	Lines []struct {
		Line   orb.LineString
		Length float64
		Shares []float64
	}
}

func (f coverageFile) coverage() *Coverage {
	var areas []orb.MultiPolygon
	for _, c := range f.Cells {
		areas = append(areas, orb.MultiPolygon{c})
	}
	return NewCoverage(areas)
}

// Footprints divided by cells: the parts that are clipped and measured, and those reported as in
// one cell, equal what GEOS cuts out.
func TestCoverageAgainstGEOS(t *testing.T) {
	f := answers[coverageFile](t, "coverage.json")
	m := f.coverage()
	whole, cut := 0, 0
	for k, p := range f.Footprints {
		footprint := orb.MultiPolygon{{p.Ring}}
		got := make([]float64, len(f.Cells))
		box := footprint.Bound()
		across, cover := m.Meeting(box)
		if len(across) == 0 && cover >= 0 {
			got[cover] = float64(Area(footprint))
			whole++
		} else {
			cut++
			if cover >= 0 {
				across = append(across, cover)
			}
			for _, i := range across {
				got[i] = float64(IntersectionArea(footprint, m.Clip(i, box.Pad(1))))
			}
		}
		for i, want := range p.Shares {
			if math.Abs(got[i]-want) > 1e-9*p.Area {
				t.Errorf("footprint %d in cell %d: %v, want %v of %v", k, i, got[i], want, p.Area)
			}
		}
	}
	if whole < 10 || cut < 10 {
		t.Errorf("%d whole, %d cut: not both tested", whole, cut)
	}
}

func TestAlongAgainstGEOS(t *testing.T) {
	f := answers[coverageFile](t, "coverage.json")
	m := f.coverage()
	for k, l := range f.Lines {
		got := make([]float64, len(f.Cells)+1) // ground outside last
		for i := 0; i+1 < len(l.Line); i++ {
			length := float64(geo.Distance(l.Line[i], l.Line[i+1]))
			for _, part := range m.Along(nil, l.Line[i], l.Line[i+1]) {
				at := int(part.Area)
				if at < 0 {
					at = len(f.Cells)
				}
				got[at] += (part.To - part.From) * length
			}
		}
		outside := l.Length
		for _, s := range l.Shares {
			outside -= s
		}
		for i, want := range append(slices.Clone(l.Shares), outside) {
			if math.Abs(got[i]-want) > 1e-9*l.Length {
				t.Errorf("line %d in cell %d: %v, want %v of %v", k, i, got[i], want, l.Length)
			}
		}
	}
}

// drawEstates draws areas of many vertices, with holes, that may overlap.
func drawEstates(t *rapid.T) []orb.MultiPolygon {
	var areas []orb.MultiPolygon
	for range rapid.IntRange(1, 4).Draw(t, "areas") {
		lines := drawLines(t)
		areas = append(areas, BufferLines(lines, drawRadii(t, len(lines)), 16, 1))
	}
	return areas
}

// Clip is the intersection with the box: in area and, once made valid, in the area common with any
// other area. Where Meeting returns no areas, all of an area or nothing of it is in the box.
func TestClipIsIntersection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		areas := drawEstates(t)
		m := NewCoverage(areas)
		at := rapid.Float64Range(-60, 120)
		box := boxOf(at.Draw(t, "x"), at.Draw(t, "y"), rapid.Float64Range(0.1, 80).Draw(t, "width"), rapid.Float64Range(0.1, 80).Draw(t, "height"))
		across, cover := m.Meeting(box)
		square := orb.MultiPolygon{box.ToPolygon()}
		for i, area := range areas {
			got, want := float64(Area(m.Clip(int32(i), box))), float64(IntersectionArea(area, square))
			if math.Abs(got-want) > 1e-6 {
				t.Fatalf("area %d: clipped %v, want %v", i, got, want)
			}
			all := float64(Area(square))
			switch {
			case slices.Contains(across, int32(i)) || cover >= 0 && int32(i) > cover:
			case int32(i) == cover && math.Abs(want-all) > 1e-6:
				t.Fatalf("area %d covers, but holds %v of %v", i, want, all)
			case int32(i) != cover && want > 1e-6:
				t.Fatalf("area %d is not told, but holds %v", i, want)
			}
		}
	})
}

// Along runs from 0 to 1 without a gap, and every part is in the first area that contains its
// middle.
func TestAlongIsWhereItSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		areas := drawEstates(t)
		m := NewCoverage(areas)
		at := rapid.Float64Range(-60, 160)
		a, b := orb.Point{at.Draw(t, "ax"), at.Draw(t, "ay")}, orb.Point{at.Draw(t, "bx"), at.Draw(t, "by")}
		end := 0.0
		for _, part := range m.Along(nil, a, b) {
			if part.From != end || part.To <= part.From {
				t.Fatalf("part %+v after %v", part, end)
			}
			end = part.To
			for _, share := range []float64{0.25, 0.5, 0.75} {
				x := part.From + share*(part.To-part.From)
				p := orb.Point{a[0] + x*(b[0]-a[0]), a[1] + x*(b[1]-a[1])}
				if part.To-part.From > 1e-6 && int32(slices.IndexFunc(areas, func(mp orb.MultiPolygon) bool { return Contains(mp, p) })) != part.Area {
					t.Fatalf("%v is not in %d", p, part.Area)
				}
			}
		}
		if end != 1 {
			t.Fatalf("ends at %v", end)
		}
	})
}

// No awkward area causes a panic, and the result of Clip is never larger than the box.
func TestCoverageOfAwkwardAreas(t *testing.T) {
	for name, line := range awkwardLines() {
		m := NewCoverage([]orb.MultiPolygon{{orb.Polygon{orb.Ring(line)}}, {}, {orb.Polygon{}}})
		box := boxOf(-10, -10, 60, 40)
		m.Meeting(box)
		m.Along(nil, orb.Point{-5, 3}, orb.Point{70, 20})
		if got := Area(m.Clip(0, box)); math.Abs(float64(got)) > 2400*1.000001 && name != "circle walked twice" {
			t.Errorf("%s: %v", name, got)
		}
	}
}

package geo

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// All numbers derived by hand.
func TestSegmentDistance(t *testing.T) {
	a, b := orb.Point{1, 1}, orb.Point{5, 4} // length 5
	for _, c := range []struct {
		name    string
		p, a, b orb.Point
		d, t    float64
	}{
		{"beside the middle", orb.Point{0, 6.5}, a, b, 5, 0.5}, // (3, 2.5) and 5 along (-3, 4) / 5,
		{"other side", orb.Point{6, -1.5}, a, b, 5, 0.5},
		{"on the line", orb.Point{1.8, 1.6}, a, b, 0, 0.2},
		{"before the start", orb.Point{-3, -2}, a, b, 5, 0},
		{"at the start", a, a, b, 0, 0},
		{"at the end", b, a, b, 0, 1},
		{"past the end", orb.Point{9, 7}, a, b, 5, 1},
		{"no length", orb.Point{4, 5}, a, a, 5, 0},
	} {
		d, at := SegmentDistance(c.p, c.a, c.b)
		near(t, c.name+": distance", float64(d), c.d, 1e-14)
		near(t, c.name+": share", at, c.t, 1e-15)
	}
}

// No point on the segment is nearer than the distance returned, and the point returned is on it.
func TestSegmentDistanceIsLeast(t *testing.T) {
	point := rapid.Custom(func(t *rapid.T) orb.Point {
		return orb.Point{rapid.Float64Range(-1e4, 1e4).Draw(t, "x"), rapid.Float64Range(-1e4, 1e4).Draw(t, "y")}
	})
	rapid.Check(t, func(t *rapid.T) {
		p, a, b := point.Draw(t, "p"), point.Draw(t, "a"), point.Draw(t, "b")
		d, at := SegmentDistance(p, a, b)
		on := func(t float64) orb.Point { return orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])} }
		near(t, "distance", float64(Distance(p, on(at))), float64(d), 1e-10)
		for k := 0.0; k <= 1; k += 0.01 {
			if Distance(p, on(k)) < d-1e-10 {
				t.Fatalf("place %v is nearer: %v < %v", k, Distance(p, on(k)), d)
			}
		}
		back, tBack := SegmentDistance(p, b, a)
		near(t, "distance, segment turned round", float64(back), float64(d), 1e-10)
		if Distance(a, b) > 1e-3 {
			near(t, "share, segment turned round", 1-tBack, at, 1e-9)
		}
	})
}

// All numbers derived by hand.
func TestRingArea(t *testing.T) {
	square := orb.Ring{{0, 0}, {2, 0}, {2, 3}, {0, 3}, {0, 0}}
	for _, c := range []struct {
		name string
		r    orb.Ring
		want float64
	}{
		{"counter-clockwise", square, 6},
		{"clockwise", orb.Ring{{0, 0}, {0, 3}, {2, 3}, {2, 0}, {0, 0}}, -6},
		{"open", square[:4], 6},
		{"triangle", orb.Ring{{1, 1}, {4, 1}, {1, 3}}, 3},
		{"figure of eight cancels", orb.Ring{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, 0},
		{"empty", nil, 0},
		{"one point", orb.Ring{{5, 5}}, 0},
		{"two points", orb.Ring{{5, 5}, {6, 7}, {5, 5}}, 0},
		{"far from the origin", orb.Ring{{5e6, 1e7}, {5e6 + 1, 1e7}, {5e6 + 1, 1e7 + 1}, {5e6, 1e7 + 1}}, 1},
	} {
		if got := RingArea(c.r); float64(got) != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// The area is unchanged by moving the ring or starting at another vertex, and changes sign if its
// direction is reversed.
func TestRingAreaSymmetries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-1e4, 1e4)
		var r orb.Ring
		for range rapid.IntRange(3, 12).Draw(t, "n") {
			r = append(r, orb.Point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")})
		}
		want := float64(RingArea(r))
		k := rapid.IntRange(1, len(r)-1).Draw(t, "start")
		near(t, "other start", float64(RingArea(append(slices.Clone(r[k:]), r[:k]...))), want, 1e-5)
		turned := slices.Clone(r)
		slices.Reverse(turned)
		near(t, "turned round", float64(RingArea(turned)), -want, 1e-5)
		for i := range turned {
			turned[i][0] += 5e5
			turned[i][1] -= 4e6
		}
		near(t, "moved", float64(RingArea(turned)), -want, 1e-3)
	})
}

// Derived by hand: 100 - 4 - 1, and a second polygon of area 2.
func TestPolygonAreaSubtractsHoles(t *testing.T) {
	box := func(x, y, w, h float64) orb.Ring {
		return orb.Ring{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}, {x, y}}
	}
	mp := orb.MultiPolygon{{box(0, 0, 10, 10), box(1, 1, 2, 2), box(5, 5, 1, 1)}, {box(20, 0, 1, 2)}}
	if got := PolygonArea(mp); got != 97 {
		t.Errorf("area %v, want 97", got)
	}
	for _, p := range mp {
		for _, r := range p {
			slices.Reverse(r)
		}
	}
	if got := PolygonArea(mp); got != 97 {
		t.Errorf("area with the winding turned %v, want 97", got)
	}
	if got := PolygonArea(orb.MultiPolygon{nil, {}}); got != 0 {
		t.Errorf("area of nothing is %v", got)
	}
}

func TestDistance(t *testing.T) {
	if got := Distance(orb.Point{1, 2}, orb.Point{4, 6}); got != 5 {
		t.Errorf("distance %v, want 5", got)
	}
	if !math.IsNaN(float64(Distance(orb.Point{math.NaN(), 0}, orb.Point{}))) {
		t.Error("distance hides a position that is not a number")
	}
}

func BenchmarkSegmentDistance(b *testing.B) {
	p, a, c := orb.Point{3, 7}, orb.Point{1, 1}, orb.Point{5, 4}
	sum := Meters(0)
	for b.Loop() {
		p[0] += 1e-9
		d, _ := SegmentDistance(p, a, c)
		sum += d
	}
	_ = sum
}

func BenchmarkRingArea(b *testing.B) {
	r := make(orb.Ring, 1000)
	for i := range r {
		s, c := math.Sincos(float64(i) / 1000 * 2 * math.Pi)
		r[i] = orb.Point{c, s}
	}
	for b.Loop() {
		RingArea(r)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1000, "ns/vertex")
}

// By hand.
func TestComparePoints(t *testing.T) {
	for _, c := range []struct {
		a, b orb.Point
		want int
	}{
		{orb.Point{1, 9}, orb.Point{2, 0}, -1},
		{orb.Point{1, 2}, orb.Point{1, 1}, 1},
		{orb.Point{1, 2}, orb.Point{1, 2}, 0},
	} {
		if got := ComparePoints(c.a, c.b); got != c.want || ComparePoints(c.b, c.a) != -c.want {
			t.Errorf("%v, %v: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// False comes before true.
func TestCompareBools(t *testing.T) {
	for _, c := range []struct {
		a, b bool
		want int
	}{{false, false, 0}, {false, true, -1}, {true, false, 1}, {true, true, 0}} {
		if got := CompareBools(c.a, c.b); got != c.want {
			t.Errorf("%v and %v: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// By hand: the first position that differs decides; if none does, the length.
func TestCompareLinesAndAreas(t *testing.T) {
	short, long, east := orb.LineString{{0, 0}, {1, 1}}, orb.LineString{{0, 0}, {1, 1}, {0, 0}}, orb.LineString{{0, 0}, {2, 0}}
	lines := [][]orb.LineString{nil, {short}, {short, short}, {long}, {east}}
	for i := range lines {
		for k := range lines {
			if got := CompareLines(lines[i], lines[k]); got != cmp.Compare(i, k) {
				t.Errorf("lines %d and %d: %d", i, k, got)
			}
		}
	}
	area := func(rings ...orb.LineString) orb.Polygon {
		var p orb.Polygon
		for _, r := range rings {
			p = append(p, orb.Ring(r))
		}
		return p
	}
	areas := []orb.MultiPolygon{nil, {area(short)}, {area(short), area(short)}, {area(short, short)}, {area(long)}, {area(east)}}
	for i := range areas {
		for k := range areas {
			if got := CompareAreas(areas[i], areas[k]); got != cmp.Compare(i, k) {
				t.Errorf("areas %d and %d: %d", i, k, got)
			}
		}
	}
}

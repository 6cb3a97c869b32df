package shape

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"pgregory.net/rapid"
)

// box is a rectangle as a ring, counter-clockwise.
func boxRing(x0, y0, x1, y1 float64) orb.Ring {
	return orb.Ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}
}

// TestRulesOfAreas: valid polygons and multipolygons by OGC 06-103r4, 6.1.11 and 6.1.14, rule by
// rule, and what MakeValid makes of invalid ones: the area by hand, keeping places run around an
// odd number of times and taking out holes.
func TestRulesOfAreas(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	big := boxRing(0, 0, 10, 10)
	for name, one := range map[string]struct {
		mp    orb.MultiPolygon
		valid bool
		area  float64
	}{
		"nothing":                                {nil, true, 0},
		"a box":                                  {orb.MultiPolygon{{big}}, true, 100},
		"clockwise":                              {orb.MultiPolygon{{{{0, 0}, {0, 10}, {10, 10}, {10, 0}, {0, 0}}}}, true, 100},
		"with a hole":                            {orb.MultiPolygon{{big, boxRing(2, 2, 4, 4)}}, true, 96},
		"a hole the same way round":              {orb.MultiPolygon{{big, {{2, 2}, {2, 4}, {4, 4}, {4, 2}, {2, 2}}}}, true, 96},
		"a hole that touches the outline once":   {orb.MultiPolygon{{big, {{0, 5}, {3, 4}, {3, 6}, {0, 5}}}}, true, 97},
		"a hole that touches twice and cuts":     {orb.MultiPolygon{{big, {{0, 5}, {5, 4}, {10, 5}, {5, 6}, {0, 5}}}}, false, 90},
		"a hole along a side":                    {orb.MultiPolygon{{big, boxRing(0, 3, 2, 6)}}, false, 94},
		"a hole outside":                         {orb.MultiPolygon{{big, boxRing(20, 20, 22, 22)}}, false, 100},
		"a hole across the outline":              {orb.MultiPolygon{{big, boxRing(8, 4, 12, 6)}}, false, 96},
		"a hole that is all":                     {orb.MultiPolygon{{big, big}}, false, 0},
		"holes that touch at a corner":           {orb.MultiPolygon{{big, boxRing(2, 2, 4, 4), boxRing(4, 4, 6, 6)}}, true, 92},
		"holes that share a side":                {orb.MultiPolygon{{big, boxRing(2, 2, 4, 4), boxRing(4, 2, 6, 4)}}, false, 92},
		"a hole in a hole":                       {orb.MultiPolygon{{big, boxRing(2, 2, 8, 8), boxRing(4, 4, 6, 6)}}, false, 64},
		"a figure of eight":                      {orb.MultiPolygon{{{{0, 0}, {10, 10}, {10, 0}, {0, 10}, {0, 0}}}}, false, 50},
		"a spike":                                {orb.MultiPolygon{{{{0, 0}, {10, 0}, {15, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}}}, false, 100},
		"a spike inwards":                        {orb.MultiPolygon{{{{0, 0}, {5, 0}, {5, 5}, {5, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}}}, false, 100},
		"a ring that touches itself from inside": {orb.MultiPolygon{{{{0, 0}, {5, 0}, {3, 4}, {7, 4}, {5, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}}}, false, 92},
		"around twice":                           {orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}}}, false, 0},
		"a place twice in a row":                 {orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}}}, true, 100},
		"an open ring":                           {orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}}}, false, 100},
		"a line there and back":                  {orb.MultiPolygon{{{{0, 0}, {10, 0}, {0, 0}}}}, false, 0},
		"one place":                              {orb.MultiPolygon{{{{3, 3}, {3, 3}, {3, 3}, {3, 3}}}}, false, 0},
		"no number":                              {orb.MultiPolygon{{{{0, 0}, {nan, 0}, {10, 10}, {0, 10}, {0, 0}}}}, false, 0},
		"without end":                            {orb.MultiPolygon{{{{0, 0}, {inf, 0}, {10, 10}, {0, 10}, {0, 0}}}}, false, 0},
		"two apart":                              {orb.MultiPolygon{{big}, {boxRing(20, 0, 25, 5)}}, true, 125},
		"two that touch at a corner":             {orb.MultiPolygon{{big}, {boxRing(10, 10, 15, 15)}}, true, 125},
		"two that share a side":                  {orb.MultiPolygon{{big}, {boxRing(10, 0, 15, 5)}}, false, 125},
		"two that overlap":                       {orb.MultiPolygon{{big}, {boxRing(5, 5, 15, 15)}}, false, 175},
		"one in the other":                       {orb.MultiPolygon{{big}, {boxRing(2, 2, 4, 4)}}, false, 100},
		"one in the hole of the other":           {orb.MultiPolygon{{big, boxRing(2, 2, 8, 8)}, {boxRing(4, 4, 6, 6)}}, true, 68},
		"one that fills the hole of the other":   {orb.MultiPolygon{{big, boxRing(2, 2, 8, 8)}, {boxRing(2, 2, 8, 8)}}, false, 100},
		"twice the same":                         {orb.MultiPolygon{{big}, {big}}, false, 100},
		"far off and small":                      {orb.MultiPolygon{{boxRing(1e6, 1e6, 1e6+0.5, 1e6+0.5)}}, true, 0.25},
	} {
		if err := Valid(one.mp); (err == nil) != one.valid {
			t.Errorf("%s: %v, want valid %v", name, err, one.valid)
		}
		mended, changed := MakeValid(one.mp.Clone())
		if changed == one.valid && one.mp != nil && name != "a place twice in a row" {
			t.Errorf("%s: changed %v", name, changed)
		}
		if err := Valid(mended); err != nil {
			t.Errorf("%s, mended: %v: %v", name, err, mended)
		}
		if got := float64(Area(mended)); math.Abs(got-one.area) > 1e-9*max(1, one.area) {
			t.Errorf("%s: area %v, want %v: %v", name, got, one.area, mended)
		}
		for i, p := range mended { // the normal form
			if signedArea(p[0]) <= 0 || i > 0 && compareRings(mended[i-1][0], p[0]) >= 0 {
				t.Errorf("%s: polygon %d is not in normal form: %v", name, i, mended)
			}
			for k, r := range p {
				least := slices.MinFunc(r, geo.ComparePoints)
				if r[0] != least || r[len(r)-1] != r[0] || k > 0 && signedArea(r) >= 0 {
					t.Errorf("%s: ring %d of polygon %d is not in normal form: %v", name, k, i, r)
				}
			}
		}
	}
}

// star is a simple polygon around a centre, by angle and distance: its area is the sum of triangles
// to the centre, and a place is in it if it is nearer along its ray than the side.
type star struct {
	at orb.Point
	r  []float64
}

func drawStar(t *rapid.T, name string) star {
	n := rapid.IntRange(3, 14).Draw(t, name)
	s := star{orb.Point{rapid.Float64Range(-5, 5).Draw(t, "x"), rapid.Float64Range(-5, 5).Draw(t, "y")}, make([]float64, n)}
	for i := range s.r {
		s.r[i] = rapid.Float64Range(1, 9).Draw(t, "r")
	}
	return s
}

func (s star) corner(i int) orb.Point {
	sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(s.r)))
	return orb.Point{s.at[0] + s.r[i%len(s.r)]*cos, s.at[1] + s.r[i%len(s.r)]*sin}
}

func (s star) area() orb.MultiPolygon {
	ring := make(orb.Ring, 0, len(s.r)+1)
	for i := range s.r {
		ring = append(ring, s.corner(i))
	}
	return orb.MultiPolygon{{append(ring, ring[0])}}
}

func (s star) size() (sum float64) {
	for i, r := range s.r {
		sum += r * s.r[(i+1)%len(s.r)] * math.Sin(2*math.Pi/float64(len(s.r))) / 2
	}
	return sum
}

// holds says whether a place is in the star; sure is false where it is nearer to a side than a
// billionth of its distance.
func (s star) holds(p orb.Point) (in, sure bool) {
	dx, dy := p[0]-s.at[0], p[1]-s.at[1]
	angle := math.Atan2(dy, dx)
	if angle < 0 {
		angle += 2 * math.Pi
	}
	i := int(angle / (2 * math.Pi) * float64(len(s.r)))
	a, b := s.corner(i), s.corner(i+1)
	off := turn(a, b, p) / math.Hypot(b[0]-a[0], b[1]-a[1])
	return off > 0, math.Abs(off) > 1e-9*(1+math.Hypot(dx, dy))
}

// TestStarsCombined: for oblique outlines in any position, places are in unions, intersections and
// differences as they are in the stars; areas add up (inclusion and exclusion); turned or mirrored
// shapes have the same areas.
func TestStarsCombined(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, o := drawStar(t, "first"), drawStar(t, "second")
		a, b := s.area(), o.area()
		union, common, rest := Join(a, b), Intersection(a, b), Difference(a, b)
		size := func(mp orb.MultiPolygon) float64 { return float64(Area(mp)) }
		equal := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-9*(size(a)+size(b)) {
				t.Fatalf("%s: %v, want %v", what, got, want)
			}
		}
		equal("a star", size(a), s.size())
		equal("union and common ground", size(union)+size(common), s.size()+o.size())
		equal("difference and common ground", size(rest)+size(common), s.size())
		equal("common ground, measured alone", float64(IntersectionArea(a, b)), size(common))
		equal("common ground, the other way", float64(IntersectionArea(b, a)), size(common))
		for x := -14.0; x <= 14; x += 1.75 {
			for y := -14.0; y <= 14; y += 1.75 {
				p := orb.Point{x + 0.123, y - 0.321}
				inA, sureA := s.holds(p)
				inB, sureB := o.holds(p)
				if !sureA || !sureB {
					continue
				}
				for name, one := range map[string]struct {
					mp   orb.MultiPolygon
					want bool
				}{"first": {a, inA}, "union": {union, inA || inB}, "common ground": {common, inA && inB}, "difference": {rest, inA && !inB}} {
					if got := Contains(one.mp, p); got != one.want {
						t.Fatalf("%v in the %s: %v", p, name, got)
					}
				}
			}
		}
		for name, move := range map[string]func(orb.Point) orb.Point{
			"turned": func(p orb.Point) orb.Point { return orb.Point{-p[1], p[0]} }, "mirrored": func(p orb.Point) orb.Point { return orb.Point{-p[0], p[1]} },
			"elsewhere": func(p orb.Point) orb.Point { return orb.Point{p[0] + 4096, p[1] - 1024} },
		} {
			c, d := moved(a, move), moved(b, move)
			if got := float64(IntersectionArea(c, d)); math.Abs(got-size(common)) > 1e-8*(1+size(common)) {
				t.Fatalf("%s: common ground %v, was %v", name, got, size(common))
			}
			if got := size(Join(c, d)); math.Abs(got-size(union)) > 1e-8*size(union) {
				t.Fatalf("%s: union %v, was %v", name, got, size(union))
			}
		}
	})
}

func moved(mp orb.MultiPolygon, move func(orb.Point) orb.Point) orb.MultiPolygon {
	out := mp.Clone()
	for _, p := range out {
		for _, r := range p {
			for i := range r {
				r[i] = move(r[i])
			}
		}
	}
	return normalize(out)
}

// TestStarsGrownAndClosed: growing gains at least a strip along the hull and at most one along the
// whole outline; the grown shape contains every place within the distance and none beyond; closing
// keeps everything, stays within the hull's size, and closing again changes nothing.
func TestStarsGrownAndClosed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStar(t, "star")
		mp, r := s.area(), rapid.Float64Range(0.1, 3).Draw(t, "distance")
		grown := BufferPolygon(mp, geo.Meters(r), 64)
		var around float64
		var corners []orb.Point
		for i := range s.r {
			p, q := s.corner(i), s.corner(i+1)
			around += math.Hypot(q[0]-p[0], q[1]-p[1])
			corners = append(corners, p)
		}
		if got := float64(Area(grown)); got > s.size()+around*r+math.Pi*r*r+1e-6 || got < s.size()+math.Pi*r*r*0.999 {
			t.Fatalf("grown by %v to %v, from %v with %v around", r, got, s.size(), around)
		}
		for i := range s.r {
			for _, off := range []float64{0.5, 0.99, 1.02, 2} {
				c := s.corner(i)
				p := orb.Point{c[0] + off*r*math.Cos(float64(i)), c[1] + off*r*math.Sin(float64(i))}
				far := float64(DistanceToLine(mp, orb.LineString{p}))
				if in := Contains(grown, p); far < 0.999*r && !in || far > 1.0001*r && in {
					t.Fatalf("%v, %v from the star, is in what is grown by %v: %v", p, far, r, in)
				}
				if Within(mp, p, geo.Meters(far*1.0001+1e-9)) != true || far > 1e-6 && Within(mp, p, geo.Meters(far*0.999)) {
					t.Fatalf("%v is %v off", p, far)
				}
			}
		}
		hull := hullOf(corners)
		var most float64
		for i, p := range hull {
			q := hull[(i+1)%len(hull)]
			most += (p[0]*q[1] - p[1]*q[0]) / 2
		}
		closed := Closing(mp, geo.Meters(2*r))
		if got := float64(Area(closed)); got < s.size()-1e-9 || got > most+0.02*most {
			t.Fatalf("closed to %v, from %v, the hull has %v", got, s.size(), most)
		}
		if lost := float64(Area(Difference(mp, closed))); lost > 1e-7*s.size() {
			t.Fatalf("%v is lost by closing", lost)
		}
		if again := Closing(closed, geo.Meters(2*r)); math.Abs(float64(Area(again)-Area(closed))) > 0.01*float64(Area(closed)) {
			t.Fatalf("closed again: %v, was %v", Area(again), Area(closed))
		}
		if kept := Closing(mp, 0); fmt.Sprint(kept) != fmt.Sprint(normalize(mp.Clone())) && fmt.Sprint(kept) != fmt.Sprint(mp) {
			t.Fatalf("a gap of nothing changes %v to %v", mp, kept)
		}
	})
}

// TestStarsOnAGrid: rounding to a grid moves no corner by more than half a step, so the area
// changes by at most the outline times that; adjusted, it is the original area to a tenth of the
// most that rounding can change.
func TestStarsOnAGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStar(t, "star")
		mp, perUnit := s.area(), rapid.SampledFrom([]float64{20, 100, 1000}).Draw(t, "steps")
		var around float64
		for i := range s.r {
			p, q := s.corner(i), s.corner(i+1)
			around += math.Hypot(q[0]-p[0], q[1]-p[1])
		}
		on := OnGrid(mp, perUnit)
		if err := Valid(on); err != nil {
			t.Fatal(err)
		}
		for _, p := range on {
			for _, r := range p {
				for _, at := range r {
					for _, v := range at {
						if step := v * perUnit; math.Abs(step-math.Round(step)) > 1e-6 {
							t.Fatalf("%v is no place of the grid of 1/%v", at, perUnit)
						}
					}
				}
			}
		}
		if got := float64(Area(on)); math.Abs(got-s.size()) > around*math.Sqrt2/perUnit {
			t.Fatalf("area %v on a grid of 1/%v, was %v", got, perUnit, s.size())
		}
		back := OnGridOfArea(mp, perUnit, s.size(), float64(Area(mp)))
		if err := Valid(back); err != nil {
			t.Fatal(err)
		}
		if before, after := math.Abs(float64(Area(on))-s.size()), math.Abs(float64(Area(back))-s.size()); after > before+0.1*around/perUnit {
			t.Fatalf("brought back it is %v off, rounded %v", after, before)
		}
	})
}

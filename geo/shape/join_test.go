package shape

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// starAt is a star-shaped outline about a place, made valid; it may have crossed itself.
func starAt(rng *rand.Rand, at orb.Point, size float64) orb.MultiPolygon {
	var r orb.Ring
	for range 5 + rng.IntN(10) {
		r = append(r, orb.Point{at[0] + size*(rng.Float64()-0.5), at[1] + size*(rng.Float64()-0.5)})
	}
	mp, _ := MakeValid(orb.MultiPolygon{{append(r, r[0])}})
	return mp
}

// TestJoinAgainstTheLibrary: areas joined by their own sides equal the polygon library's union, and
// hardly any pair is left to the library.
func TestJoinAgainstTheLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 1))
	own, n := 0, 60
	for k := range n {
		discs := make([]Disc, 1+rng.IntN(60))
		side := 4 * math.Sqrt(float64(len(discs)))
		for i := range discs {
			discs[i] = DiscOfArea(orb.Point{side * rng.Float64(), side * rng.Float64()}, geo.SquareMeters(1+20*rng.Float64()))
		}
		a, b := UnionDiscs(discs), starAt(rng, orb.Point{side * rng.Float64(), side * rng.Float64()}, side*rng.Float64())
		got, want := Join(a, b), dissolve(append(a.Clone(), b...))
		if err := Valid(got); err != nil {
			t.Fatalf("%d: %v", k, err)
		}
		off := float64(Area(got) + Area(want) - 2*IntersectionArea(got, want))
		if math.Abs(off) > 1e-9*(1+side*side) {
			t.Errorf("%d: %v m2 differ", k, off)
		}
		if _, ok := joined(a, b); ok {
			own++
		}
	}
	if own < n*95/100 {
		t.Errorf("%d of %d joined without the library", own, n)
	}
}

// TestJoinWhatTouches: coinciding sides, corners on sides, a hole that is filled.
func TestJoinWhatTouches(t *testing.T) {
	box := func(x0, y0, x1, y1 float64) orb.Ring {
		return orb.Ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}
	}
	back := func(r orb.Ring) orb.Ring { r = r.Clone(); r.Reverse(); return r }
	square := orb.MultiPolygon{{box(0, 0, 4, 4)}}
	frame := orb.MultiPolygon{{box(0, 0, 9, 9), back(box(3, 3, 6, 6))}}
	for name, c := range map[string]struct {
		a, b     orb.MultiPolygon
		area     float64
		polygons int
	}{
		"beside, one side whole":    {square, orb.MultiPolygon{{box(4, 0, 7, 4)}}, 28, 1},
		"beside, part of a side":    {square, orb.MultiPolygon{{box(4, 1, 7, 3)}}, 22, 1},
		"corner to corner":          {square, orb.MultiPolygon{{box(4, 4, 5, 5)}}, 17, 2},
		"equal":                     {square, square.Clone(), 16, 1},
		"inside":                    {square, orb.MultiPolygon{{box(1, 1, 2, 2)}}, 16, 1},
		"inside, on a side":         {square, orb.MultiPolygon{{box(1, 0, 2, 2)}}, 16, 1},
		"in the hole":               {frame, orb.MultiPolygon{{box(4, 4, 5, 5)}}, 73, 2},
		"all of the hole":           {frame, orb.MultiPolygon{{box(3, 3, 6, 6)}}, 81, 1},
		"more than the hole":        {frame, orb.MultiPolygon{{box(2, 2, 7, 7)}}, 81, 1},
		"across the hole":           {frame, orb.MultiPolygon{{box(2, 4, 7, 5)}}, 75, 1},
		"apart":                     {square, orb.MultiPolygon{{box(6, 6, 7, 7)}}, 17, 2},
		"two that cross four times": {orb.MultiPolygon{{box(0, 1, 9, 2)}, {box(0, 4, 9, 5)}}, orb.MultiPolygon{{box(1, 0, 2, 9)}}, 25, 1},
		"nothing":                   {square, nil, 16, 1},
	} {
		for _, got := range []orb.MultiPolygon{Join(c.a, c.b), Join(c.b, c.a)} {
			if Valid(got) != nil || len(got) != c.polygons || math.Abs(float64(Area(got))-c.area) > 1e-9 {
				t.Errorf("%s: %v m2 in %d polygons, want %v in %d; %v", name, Area(got), len(got), c.area, c.polygons, Valid(got))
			}
		}
	}
}

// TestHiddenDiscsShowNothing: skipping the search for arcs of discs hidden among others does not
// change the closing beside polygons.
func TestHiddenDiscsShowNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 2))
	asked := 0
	for k := range 60 {
		discs := make([]Disc, 1+rng.IntN(60))
		side := 4 * math.Sqrt(float64(len(discs)))
		for i := range discs {
			discs[i] = DiscOfArea(orb.Point{side * rng.Float64(), side * rng.Float64()}, geo.SquareMeters(1+20*rng.Float64()))
		}
		discs = append(discs, discs[0]) // a duplicate
		drawn := starAt(rng, orb.Point{side * rng.Float64(), side * rng.Float64()}, side*rng.Float64())
		rho := 0.5 + 3*rng.Float64()
		g := newGroup(discs, rho, 0)
		want, sound := closeExactly(discs, drawn, rho, nil)
		got, ok := closeExactly(discs, drawn, rho, g.hidden(g.exposed(), discs, rho))
		if !sound {
			continue
		}
		asked++
		if !ok || math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("%d: %v (%v), want %v", k, got, ok, want)
		}
	}
	if asked < 54 {
		t.Errorf("asked %d only", asked)
	}
}

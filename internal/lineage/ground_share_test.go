package lineage

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
)

// By hand: a square of 10 m and one of 4 m half inside it share 8 m2, half of the smaller, in
// either order; squares apart share nothing.
func TestSharedIsOfTheSmaller(t *testing.T) {
	square := func(x, y, side float64) plot {
		ring := orb.Ring{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}
		return plot{orb.MultiPolygon{{ring}}, geo.SquareMeters(side * side)}
	}
	large, small, far := square(0, 0, 10), square(8, 2, 4), square(100, 0, 4)
	for name, pair := range map[string][2]plot{"large first": {large, small}, "small first": {small, large}} {
		area, share := pair[0].shared(pair[1])
		if math.Abs(float64(area)-8) > 1e-9 || math.Abs(share-0.5) > 1e-9 {
			t.Errorf("%s: %g m2, share %g, want 8 and 0.5", name, area, share)
		}
	}
	if area, share := large.shared(far); area != 0 || share != 0 {
		t.Errorf("apart: %g m2, share %g", area, share)
	}
}

// TestShareAboutOfParts: of a large stand only the parts near a small one are closed, and the share
// is that of both general perimeters made whole.
func TestShareAboutOfParts(t *testing.T) {
	const join = 30
	discs := func(random *rand.Rand, n int, side, radius float64) plot {
		var all []shape.Disc
		for range n {
			all = append(all, shape.Disc{Center: orb.Point{side * random.Float64(), side * random.Float64()}, Radius: geo.Meters(radius * (0.5 + random.Float64()))})
		}
		areas := shape.UnionDiscs(all)
		return plot{areas, geo.PolygonArea(areas)}
	}
	shared := 0
	for seed := range uint64(6) {
		random := rand.New(rand.NewPCG(seed, 27))
		large, small := discs(random, 12, 130, 5), discs(random, 1+random.IntN(3), 60, 4)
		for _, c := range []struct{ mine, theirs plot }{{large, small}, {small, large}} {
			for gaps := range 4 {
				mine, theirs := c.mine, c.theirs
				if gaps&1 > 0 {
					mine = mine.perimeter(join)
				}
				if gaps&2 > 0 {
					theirs = theirs.perimeter(join)
				}
				_, want := mine.shared(theirs)
				if want > 0 && !c.mine.meets(c.theirs, gaps&1 > 0, gaps&2 > 0, join) {
					if area, _ := c.mine.shared(c.theirs); area == 0 {
						t.Errorf("seed %d, gaps %d: perimeters that share %v are said not to meet", seed, gaps, want)
					}
				}
				got := (&site{plot: c.mine}).shareAbout(c.theirs, gaps&1 > 0, gaps&2 > 0, join)
				if math.Abs(got-want) > 1e-9 {
					t.Errorf("seed %d, gaps %d: %v, want %v", seed, gaps, got, want)
				}
				if got > 0 && !c.mine.mayShare(c.theirs, got, join) {
					t.Errorf("seed %d, gaps %d: perimeters that share %v are said to share less", seed, gaps, got)
				}
				if want > 0 && want < 1 {
					shared++
				}
			}
		}
	}
	if shared < 8 {
		t.Errorf("only %d shares between none and all", shared)
	}
}

// TestPerimetersMeet: by hand, for squares some metres apart and a join distance of 30 m: a perimeter
// reaches 15 m, two of them 30 m, and a footprint nothing.
func TestPerimetersMeet(t *testing.T) {
	square := func(x float64) plot {
		return plot{orb.MultiPolygon{{{{x, 0}, {x + 4, 0}, {x + 4, 4}, {x, 4}, {x, 0}}}}, 16}
	}
	for _, c := range []struct {
		apart             float64
		gaps, theirs, one bool
	}{{14.9, true, false, true}, {15.1, true, false, false}, {15.1, false, true, false}, {14.9, false, true, true}, {29.9, true, true, true}, {30.1, true, true, false}, {1, false, false, false}} {
		if got := square(0).meets(square(4+c.apart), c.gaps, c.theirs, 30); got != c.one {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// TestSurelyShareless: by hand, for squares of 4 m. Their hulls are themselves, so that what they have
// in common is known, and half of the share asked for is enough to look closer. A second square of the
// other, 8 m off, widens its hull to all between, but not when it is too far off to close a gap.
func TestSurelyShareless(t *testing.T) {
	squares := func(at ...float64) plot {
		var p plot
		for _, x := range at {
			p.areas = append(p.areas, orb.Polygon{{{x, 0}, {x + 4, 0}, {x + 4, 4}, {x, 4}, {x, 0}}})
			p.size += 16
		}
		return p
	}
	for _, c := range []struct {
		mine, theirs plot
		share        float64
		want         bool
	}{
		{squares(0), squares(3), 0.49, true}, {squares(0), squares(3), 0.51, false}, {squares(0), squares(5), 0.25, false},
		{squares(0), squares(-6, 6), 1, true}, {squares(-6, 6), squares(0), 1, true}, {squares(0), squares(-50, 6), 0.25, false},
	} {
		if got := c.mine.mayShare(c.theirs, c.share, 15); got != c.want {
			t.Errorf("%v and %v, %v: %v", c.mine.areas, c.theirs.areas, c.share, got)
		}
	}
}

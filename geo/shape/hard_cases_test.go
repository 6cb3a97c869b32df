package shape

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// awkwardLines are all kinds of lines that have broken a buffer somewhere.
func awkwardLines() map[string]orb.LineString {
	nan, inf := math.NaN(), math.Inf(1)
	return map[string]orb.LineString{
		"empty":                  {},
		"one place":              {{5, 5}},
		"one place twice":        {{5, 5}, {5, 5}},
		"straight":               {{0, 0}, {50, 0}, {100, 0}},
		"nearly straight":        {{0, 0}, {50, 1e-9}, {100, 0}},
		"repeated vertex":        {{0, 0}, {50, 20}, {50, 20}, {100, 0}},
		"there and back":         {{0, 0}, {100, 0}, {0, 0}},
		"half back":              {{0, 0}, {100, 0}, {40, 0}},
		"nearly back":            {{0, 0}, {100, 0}, {0, 1e-7}},
		"square":                 {{0, 0}, {100, 0}, {100, 100}, {0, 100}, {0, 0}},
		"small square":           {{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}},
		"crossing itself":        {{0, 0}, {100, 100}, {100, 0}, {0, 100}},
		"hairpin as wide as r":   {{0, 0}, {100, 0}, {100, 32}, {0, 32}},
		"hairpin of twice r":     {{0, 0}, {100, 0}, {100, 64}, {0, 64}},
		"steps shorter than r":   {{0, 0}, {3, 1}, {5, -1}, {9, 2}, {10, -3}, {14, 0}, {15, 6}},
		"far from the origin":    {{5e6, 7e6}, {5e6 + 80, 7e6 + 3}, {5e6 + 90, 7e6 + 80}},
		"very short":             {{0, 0}, {1e-7, 0}},
		"very long":              {{0, 0}, {1e6, 1e5}},
		"not a number":           {{0, 0}, {nan, 3}, {100, 0}},
		"without end":            {{0, 0}, {inf, 3}},
		"regular polygon":        ringOf(12, 40),
		"circle walked twice":    append(ringOf(16, 40), ringOf(16, 40)...),
		"vertex on another side": {{0, 0}, {100, 0}, {100, 50}, {50, 50}, {50, 0}, {50, -50}},
	}
}

// ringOf returns a closed regular polygon.
func ringOf(n int, r float64) orb.LineString {
	var l orb.LineString
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		l = append(l, orb.Point{r * c, r * s})
	}
	return append(l, l[0])
}

// awkwardDiscs are all arrangements in which circles meet in a special way.
func awkwardDiscs() map[string][]Disc {
	grid := func(step, shift, r float64) []Disc {
		var d []Disc
		for i := range 6 {
			for j := range 6 {
				d = append(d, Disc{orb.Point{step * (float64(i) + shift*float64(j%2)), step * float64(j) * math.Sqrt(1-shift*shift)}, geo.Meters(r)})
			}
		}
		return d
	}
	around := func(n int, distance, r float64) []Disc {
		var d []Disc
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			d = append(d, Disc{orb.Point{distance * c, distance * s}, geo.Meters(r)})
		}
		return d
	}
	return map[string][]Disc{
		"none":                         nil,
		"only empty ones":              {{orb.Point{1, 1}, 0}, {orb.Point{1, 1}, -3}, {orb.Point{math.NaN(), 0}, 4}, {orb.Point{0, 0}, geo.Meters(math.Inf(1))}},
		"one":                          {{orb.Point{3, 4}, 11}},
		"tiny":                         {{orb.Point{3, 4}, 1e-3}},
		"equal":                        {{orb.Point{3, 4}, 11}, {orb.Point{3, 4}, 11}},
		"nearly equal":                 {{orb.Point{3, 4}, 11}, {orb.Point{3, 4 + 1e-12}, 11}, {orb.Point{3 + 1e-10, 4}, 11}},
		"same centre":                  {{orb.Point{3, 4}, 11}, {orb.Point{3, 4}, 5}},
		"inside":                       {{orb.Point{0, 0}, 20}, {orb.Point{5, 5}, 3}},
		"inside, touching":             {{orb.Point{0, 0}, 20}, {orb.Point{15, 0}, 5}},
		"inside, poking out a hair":    {{orb.Point{0, 0}, 20}, {orb.Point{15 + 1e-8, 0}, 5}},
		"touching outside":             {{orb.Point{0, 0}, 10}, {orb.Point{20, 0}, 10}},
		"a hair apart":                 {{orb.Point{0, 0}, 10}, {orb.Point{20 + 1e-8, 0}, 10}},
		"a millimetre apart":           {{orb.Point{0, 0}, 10}, {orb.Point{20.001, 0}, 10}},
		"overlapping a hair":           {{orb.Point{0, 0}, 10}, {orb.Point{20 - 1e-8, 0}, 10}},
		"square grid, touching":        grid(20, 0, 10),
		"square grid, four in one":     grid(20, 0, 10*math.Sqrt2),
		"square grid, small holes":     grid(20, 0, 14.1),
		"hexagonal, touching":          grid(20, 0.5, 10),
		"hexagonal, three in one":      grid(20, 0.5, 20/math.Sqrt(3)),
		"hexagonal, tiny holes":        grid(20, 0.5, 20/math.Sqrt(3)-1e-6),
		"all through one place":        around(9, 10, 10),
		"ring touching":                around(6, 20, 10),
		"ring with a hole":             around(12, 30, 10),
		"ring with a disc in it":       append(around(12, 30, 8), Disc{orb.Point{0, 0}, 10}),
		"ring touching the disc in it": append(around(12, 30, 8), Disc{orb.Point{0, 0}, 22}),
		"far from the origin":          {{orb.Point{5e6, 7e6}, 11}, {orb.Point{5e6 + 15, 7e6}, 11}, {orb.Point{5e6 + 7, 7e6 + 12}, 11}},
		"large and small":              {{orb.Point{0, 0}, 1000}, {orb.Point{1000, 0}, 0.5}, {orb.Point{1001.4, 0}, 1}},
	}
}

// awkwardAreas is drawn patches, valid and not.
func awkwardAreas() map[string]orb.MultiPolygon {
	square := orb.Ring{{0, 0}, {100, 0}, {100, 100}, {0, 100}, {0, 0}}
	hole := orb.Ring{{20, 20}, {20, 80}, {80, 80}, {80, 20}, {20, 20}}
	return map[string]orb.MultiPolygon{
		"none":             nil,
		"no rings":         {{}},
		"empty ring":       {{orb.Ring{}}},
		"square":           {{square}},
		"clockwise":        {{orb.Ring{{0, 0}, {0, 100}, {100, 100}, {100, 0}, {0, 0}}}},
		"with a hole":      {{square, hole}},
		"open":             {{orb.Ring{{0, 0}, {100, 0}, {100, 100}, {0, 100}}}},
		"two places":       {{orb.Ring{{0, 0}, {100, 0}, {0, 0}}}},
		"no width":         {{orb.Ring{{0, 0}, {50, 50}, {100, 100}, {0, 0}}}},
		"figure of eight":  {{orb.Ring{{0, 0}, {100, 100}, {100, 0}, {0, 100}, {0, 0}}}},
		"spike":            {{orb.Ring{{0, 0}, {100, 0}, {100, 100}, {200, 100}, {100, 100}, {0, 100}, {0, 0}}}},
		"repeated vertex":  {{orb.Ring{{0, 0}, {100, 0}, {100, 0}, {100, 100}, {0, 100}, {0, 0}}}},
		"overlapping":      {{square}, {orb.Ring{{50, 50}, {150, 50}, {150, 150}, {50, 150}, {50, 50}}}},
		"sharing a side":   {{square}, {orb.Ring{{100, 0}, {200, 0}, {200, 100}, {100, 100}, {100, 0}}}},
		"sharing a corner": {{square}, {orb.Ring{{100, 100}, {200, 100}, {200, 200}, {100, 200}, {100, 100}}}},
		"hole outside":     {{square, orb.Ring{{200, 200}, {200, 210}, {210, 210}, {200, 200}}}},
		"hole across":      {{square, orb.Ring{{50, 50}, {50, 150}, {150, 150}, {150, 50}, {50, 50}}}},
		"not a number":     {{orb.Ring{{0, 0}, {math.NaN(), 0}, {100, 100}, {0, 0}}}},
		"far away":         {{orb.Ring{{5e6, 7e6}, {5e6 + 40, 7e6}, {5e6 + 40, 7e6 + 30}, {5e6, 7e6}}}},
	}
}

// mustBeNormal fails when mp is not valid or not in the package's normal form.
func mustBeNormal(t testing.TB, mp orb.MultiPolygon) {
	t.Helper()
	if err := Valid(mp); err != nil {
		t.Errorf("not valid: %v", err)
		return
	}
	for i, p := range mp {
		for k, r := range p {
			if (signedArea(r) > 0) != (k == 0) {
				t.Errorf("ring %d of polygon %d runs the wrong way", k, i)
			}
			for _, v := range r {
				if geo.ComparePoints(v, r[0]) < 0 {
					t.Errorf("ring %d of polygon %d does not start at its smallest vertex", k, i)
					break
				}
			}
		}
		if i > 0 && compareRings(mp[i-1][0], p[0]) > 0 {
			t.Errorf("polygon %d out of order", i)
		}
	}
}

func TestAwkwardLines(t *testing.T) {
	for name, l := range awkwardLines() {
		t.Run(name, func(t *testing.T) {
			usable := distinct(l)
			for _, r := range []geo.Meters{-1, 0, 1e-3, 5, 32, 300} {
				got := Buffer(orb.MultiLineString{l}, r, 16)
				mustBeNormal(t, got)
				if !finiteLine(l) || len(usable) == 0 || r <= 0 {
					if len(got) != 0 {
						t.Errorf("r %v: %d polygons of nothing", r, len(got))
					}
					continue
				}
				want := Area(libraryBuffer(orb.MultiLineString{l}, float64(r), 16))
				// The library bevels joins of less than 0.05 r.
				within(t, "area", Area(got), float64(want), 2e-3)
				for _, p := range usable {
					if !Contains(got, p) {
						t.Errorf("r %v: %v is outside", r, p)
					}
				}
			}
		})
	}
}

func TestAwkwardDiscs(t *testing.T) {
	for name, discs := range awkwardDiscs() {
		t.Run(name, func(t *testing.T) {
			got := UnionDiscs(discs)
			mustBeNormal(t, got)
			sum, least := geo.SquareMeters(0), UnionDiscsArea(discs)
			for _, d := range discs {
				sum += d.Area()
			}
			within(t, "drawn area", Area(got), float64(least), 1e-9)
			within(t, "library", Area(got), float64(Area(unionDiscPolygons(discs))), 1e-3)
			if least > sum*(1+1e-12) {
				t.Errorf("union %v above the sum %v", least, sum)
			}
			for _, gap := range []geo.Meters{-1, 0, 1e-3, 1, 10, 30, 300} {
				closed := CloseDiscs(discs, gap)
				if !(closed >= least) {
					t.Errorf("closing by %v: %v under the union's %v", gap, closed, least)
				}
				if grown := grownArea(discs, gap/2); gap == 10 && grown > 0 {
					within(t, "closing by the library", closed, float64(closePolygons(discs, gap)), 1e-3*float64(grown/closed))
				}
			}
		})
	}
}

// grownArea returns the area of the union of discs grown by r.
func grownArea(discs []Disc, r geo.Meters) geo.SquareMeters {
	var grown []Disc
	for _, d := range discs {
		if !d.empty() {
			grown = append(grown, Disc{d.Center, d.Radius + r})
		}
	}
	return UnionDiscsArea(grown)
}

func TestAwkwardAreas(t *testing.T) {
	for name, mp := range awkwardAreas() {
		t.Run(name, func(t *testing.T) {
			fixed, changed := MakeValid(mp)
			mustBeNormal(t, fixed)
			if changed != (Valid(mp) != nil) {
				t.Errorf("changed %v, but valid: %v", changed, Valid(mp))
			}
			if again, changed := MakeValid(fixed); changed || Area(again) != Area(fixed) {
				t.Error("repaired a second time")
			}
			other := orb.MultiPolygon{{orb.Ring{{-10, -10}, {60, -10}, {60, 60}, {-10, 60}, {-10, -10}}}}
			both := IntersectionArea(fixed, other)
			clipped, _ := MakeValid(Clip(fixed, other.Bound()))
			within(t, "clipped", Area(clipped), float64(both), 1e-9)
			all := Union([]orb.MultiPolygon{fixed, other}, 2)
			mustBeNormal(t, all)
			within(t, "union and intersection", Area(all)+both, float64(Area(fixed)+Area(other)), 1e-9)
			for _, r := range []geo.Meters{-60, -5, 0, 5, 60} {
				grown := BufferPolygon(fixed, r, 8)
				mustBeNormal(t, grown)
				if (r > 0 && Area(grown) < Area(fixed)) || (r < 0 && Area(grown) > Area(fixed)) {
					t.Errorf("grown by %v from %v to %v", r, Area(fixed), Area(grown))
				}
			}
			closed := Closing(fixed, 30)
			mustBeNormal(t, closed)
			if Area(closed) < Area(fixed)*(1-1e-9) {
				t.Errorf("closing shrank %v to %v", Area(fixed), Area(closed))
			}
			d := DistanceToLine(fixed, orb.LineString{{0, 300}, {300, 300}})
			if (len(fixed) == 0) != math.IsInf(float64(d), 1) {
				t.Errorf("distance %v", d)
			}
		})
	}
}

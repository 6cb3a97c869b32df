package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/disjoint"
)

// crowds are arrangements in which many lines meet, by name: n lines each.
var crowds = map[string]func(n int, random *rand.Rand) []orb.LineString{
	"star": func(n int, random *rand.Rand) []orb.LineString {
		return spread(n, func(i int) (angle, length float64) { return 2 * math.Pi * float64(i) / float64(n), 1000 })
	},
	"short star": func(n int, random *rand.Rand) []orb.LineString {
		return spread(n, func(i int) (angle, length float64) { return 2 * math.Pi * float64(i) / float64(n), 100 })
	},
	"fan of all lengths": func(n int, random *rand.Rand) []orb.LineString {
		return spread(n, func(i int) (angle, length float64) { return 2 * random.Float64(), 20000 * random.Float64() })
	},
	"wide star": func(n int, random *rand.Rand) []orb.LineString {
		return spread(n, func(i int) (angle, length float64) { return 2 * math.Pi * float64(i) / float64(n), 100000 })
	},
	"winding lines": func(n int, random *rand.Rand) []orb.LineString {
		lines := make([]orb.LineString, n)
		for i := range lines {
			angle := 2 * math.Pi * random.Float64()
			at := orb.Point{}
			for range 20 {
				lines[i] = append(lines[i], at)
				angle += random.Float64() - 0.5
				at = orb.Point{at[0] + 50*math.Cos(angle), at[1] + 50*math.Sin(angle)}
			}
		}
		return lines
	},
	"one valley": func(n int, random *rand.Rand) []orb.LineString {
		lines := make([]orb.LineString, n)
		for i := range lines {
			lines[i] = orb.LineString{{0, 0}, {random.Float64(), 500 + random.Float64()}, {200 + random.Float64(), 900 + random.Float64()}}
		}
		return lines
	},
	"a heap of short lines": func(n int, random *rand.Rand) []orb.LineString {
		lines := make([]orb.LineString, n)
		for i := range lines {
			at := orb.Point{200 * random.Float64(), 200 * random.Float64()}
			lines[i] = orb.LineString{at, {at[0] + 20*random.Float64(), at[1] - 20*random.Float64()}}
		}
		return lines
	},
	"snapped ends": func(n int, random *rand.Rand) []orb.LineString {
		lines := spread(n, func(i int) (angle, length float64) { return 2 * math.Pi * random.Float64(), 500 + 500*random.Float64() })
		for _, l := range lines {
			l[0] = orb.Point{random.Float64() - 0.5, random.Float64() - 0.5}
		}
		return lines
	},
}

func spread(n int, of func(i int) (angle, length float64)) []orb.LineString {
	lines := make([]orb.LineString, n)
	for i := range lines {
		angle, length := of(i)
		lines[i] = orb.LineString{{0, 0}, {length * math.Cos(angle), length * math.Sin(angle)}}
	}
	return lines
}

// crowd returns n lines of an arrangement and their radii: equal, or different by line.
func crowd(shape string, n int, mixed bool) ([]orb.LineString, []geo.Meters) {
	random := rand.New(rand.NewPCG(1, 2))
	lines := crowds[shape](n, random)
	radius := make([]geo.Meters, len(lines))
	for i := range radius {
		radius[i] = 31
		if mixed {
			radius[i] = geo.Meters(20 + 30*random.Float64())
		}
	}
	return lines, radius
}

// TestQuadtree: where many lines run together, the quadtree gives the same ground as trying every
// capsule, and the outline closes without the library.
func TestQuadtree(t *testing.T) {
	for name := range crowds {
		for _, mixed := range []bool{false, true} {
			lines, radius := crowd(name, 150, mixed)
			widths := make([]float64, len(radius))
			for i, r := range radius {
				widths[i] = float64(r)
			}
			var area [2]geo.SquareMeters
			for i, most := range []int{math.MaxInt, 8} {
				s := newCapsules(lines, widths)
				s.grid.most = most
				arcs, ok := s.exposed(1)
				if !ok {
					t.Fatalf("%s, mixed %v, %d: no pieces", name, mixed, most)
				}
				mp, ok := s.draw(arcs, rounding{quadrantSegments: 32}, nil)
				if !ok {
					t.Fatalf("%s, mixed %v, %d: does not close", name, mixed, most)
				}
				area[i] = Area(mp)
			}
			within(t, name, area[1], float64(area[0]), 1e-12)
		}
	}
}

// TestThinned: the kept part of a crowd covers the same ground as all of it, and of crowds lying
// over each other little is kept.
func TestThinned(t *testing.T) {
	if testing.Short() {
		t.Skip("covers crowds large enough to be thinned")
	}
	for name := range crowds {
		lines, radius := crowd(name, 1100, true)
		widths := make([]float64, len(radius))
		for i, r := range radius {
			widths[i] = float64(r)
		}
		all := newCapsules(lines, widths)
		thin := all.thinned(2)
		var area [2]geo.SquareMeters
		for i, s := range []*capsules{all, thin} {
			arcs, ok := s.exposed(2)
			if !ok {
				t.Fatalf("%s: no pieces", name)
			}
			mp, ok := s.draw(arcs, rounding{quadrantSegments: 32}, nil)
			if !ok || Valid(mp) != nil {
				t.Fatalf("%s: does not close", name)
			}
			area[i] = Area(mp)
		}
		within(t, name, area[1], float64(area[0]), 1e-9)
		if name == "one valley" && len(thin.capsules) > len(all.capsules)/4 {
			t.Errorf("%s: %d capsules left of %d", name, len(thin.capsules), len(all.capsules))
		}
	}
}

// TestCopiesAHairApart: thousands of copies of a line, 1e-9 to 1e-2 m apart, cover the same as one
// of them, except for a hair along its outline.
func TestCopiesAHairApart(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	lines, radius := make([]orb.LineString, 1200), make([]geo.Meters, 1200)
	for i := range lines {
		hair := math.Pow(10, -2-7*random.Float64())
		lines[i] = orb.LineString{{hair, 0}, {100, -hair}, {100 + hair, 200}, {hair, 100}}
		radius[i] = 31
	}
	got := BufferLines(lines, radius, 32, 1)
	mustBeNormal(t, got)
	one := BufferLines(lines[:1], radius[:1], 32, 1)
	if extra := Area(got) - Area(one); extra < -10 || extra > 10 {
		t.Errorf("%v m2 more than one of them", extra)
	}
}

// TestStarOfLines: derived by hand. Of n rays of length L, so many that only the round ends are
// exposed, each is exposed along the arc between the meetings with its neighbours': at the angle a
// = pi/n from its ray the outline is L cos a + sqrt(r^2 - L^2 sin^2 a) from the node.
func TestStarOfLines(t *testing.T) {
	for _, n := range []int{300, 3000} {
		const L, r = 1000, 31.0
		a := math.Pi / float64(n)
		out := L*math.Cos(a) + math.Sqrt(r*r-L*L*math.Sin(a)*math.Sin(a))
		arc := math.Atan2(out*math.Sin(a), out*math.Cos(a)-L)
		want := 2 * float64(n) * (L*out*math.Sin(a)/2 + r*r*arc/2)
		lines := spread(n, func(i int) (angle, length float64) { return 2 * a * float64(i), L })
		radius := make([]geo.Meters, n)
		for i := range radius {
			radius[i] = r
		}
		within(t, fmt.Sprintf("star of %d", n), Area(BufferLines(lines, radius, 2048, 1)), want, 1e-7)
	}
}

// TestTogetherAgainstEachPair: the classes of heaped boxes are those found by comparing every pair.
func TestTogetherAgainstEachPair(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 50 {
		boxes := make([]orb.Bound, random.IntN(300))
		for i := range boxes {
			boxes[i] = square(100*random.Float64(), 100*random.Float64(), 5*random.Float64()*random.Float64())
		}
		parent := disjoint.NewSets(len(boxes))
		for i := range boxes {
			for j := range i {
				if boxes[i].Intersects(boxes[j]) {
					parent.Union(int32(i), int32(j))
				}
			}
		}
		for _, class := range Together(boxes) {
			for _, i := range class {
				if parent.Find(i) != class[0] {
					t.Fatalf("box %d is in the class of %d, want %d", i, class[0], parent.Find(i))
				}
			}
		}
	}
}

func BenchmarkBufferLinesAtOneNode(b *testing.B) {
	for name := range crowds {
		for _, mixed := range []bool{false, true} {
			for _, n := range []int{5000, 20000} {
				b.Run(fmt.Sprintf("%s/mixed=%v/%d", name, mixed, n), func(b *testing.B) {
					lines, radius := crowd(name, n, mixed)
					for b.Loop() {
						BufferLines(lines, radius, 8, 1)
					}
				})
			}
		}
	}
}

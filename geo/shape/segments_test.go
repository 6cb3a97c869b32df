package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
)

// about fails unless got is within off of want.
func about(t testing.TB, what string, got, want, off float64) {
	t.Helper()
	if !(math.Abs(got-want) <= off) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestSquaresOfDistances: 3-4-5 triangles, crossings and parallel segments; by hand.
func TestSquaresOfDistances(t *testing.T) {
	for _, c := range []struct {
		name       string
		a, b, c, d orb.Point
		want       float64
	}{
		{"crossing", orb.Point{0, 0}, orb.Point{4, 4}, orb.Point{0, 4}, orb.Point{4, 0}, 0},
		{"touching at an end", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{2, 0}, orb.Point{2, 5}, 0},
		{"end to end", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{4, 0}, orb.Point{9, 9}, 0},
		{"side by side", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{1, 3}, orb.Point{3, 3}, 9},
		{"in line, apart", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{6, 0}, orb.Point{9, 0}, 4},
		{"in line, over each other", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{3, 0}, orb.Point{9, 0}, 0},
		{"in line, aslant and apart", orb.Point{0, 0}, orb.Point{3, 4}, orb.Point{6, 8}, orb.Point{9, 12}, 25},
		{"corner to corner", orb.Point{0, 0}, orb.Point{-4, 1}, orb.Point{3, 4}, orb.Point{9, 4}, 25},
		{"end over the middle", orb.Point{0, 0}, orb.Point{10, 0}, orb.Point{5, 2}, orb.Point{5, 9}, 4},
		{"boxes cross, segments do not", orb.Point{0, 0}, orb.Point{10, 10}, orb.Point{6, 0}, orb.Point{8, 2}, 18},
		{"places", orb.Point{1, 1}, orb.Point{1, 1}, orb.Point{4, 5}, orb.Point{4, 5}, 25},
	} {
		for turn, pairs := range [][4]orb.Point{{c.a, c.b, c.c, c.d}, {c.b, c.a, c.c, c.d}, {c.c, c.d, c.a, c.b}, {c.d, c.c, c.b, c.a}} {
			got := segmentToSegment(pairs[0], pairs[1], pairs[2], pairs[3])
			about(t, fmt.Sprintf("%s, turn %d", c.name, turn), got, c.want, 1e-12)
			if gap := boxGap(pairs[0], pairs[1], pairs[2], pairs[3]); gap > c.want+1e-12 {
				t.Errorf("%s: the boxes are %v apart, the segments %v", c.name, gap, c.want)
			}
		}
	}
	about(t, "boxes corner to corner", boxGap(orb.Point{0, 0}, orb.Point{2, 1}, orb.Point{5, 5}, orb.Point{9, 7}), 9+16, 0)
	about(t, "twice the triangle", cross(orb.Point{1, 1}, orb.Point{4, 1}, orb.Point{1, 5}), 12, 0)
	about(t, "the other way round", cross(orb.Point{1, 1}, orb.Point{1, 5}, orb.Point{4, 1}), -12, 0)
	about(t, "past an end", pointToSegment(orb.Point{7, 4}, orb.Point{0, 0}, orb.Point{4, 0}), 25, 0)
	about(t, "before the beginning", pointToSegment(orb.Point{-3, 4}, orb.Point{0, 0}, orb.Point{4, 0}), 25, 0)
	about(t, "over the middle", pointToSegment(orb.Point{1, 4}, orb.Point{0, 0}, orb.Point{4, 0}), 16, 0)
	about(t, "a place alone", pointToSegment(orb.Point{3, 4}, orb.Point{0, 0}, orb.Point{0, 0}), 25, 0)
}

// TestSegmentsBySteps: the distance of two segments is the smallest over places along both, to the
// width of a step, and never more.
func TestSegmentsBySteps(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	draw := func() orb.Point { return orb.Point{10 * random.Float64(), 10 * random.Float64()} }
	for range 300 {
		a, b, c, d := draw(), draw(), draw(), draw()
		least := math.Inf(1)
		const steps = 200
		for i := range steps + 1 {
			s := float64(i) / steps
			p := orb.Point{a[0] + s*(b[0]-a[0]), a[1] + s*(b[1]-a[1])}
			least = min(least, pointToSegment(p, c, d))
		}
		got := math.Sqrt(segmentToSegment(a, b, c, d))
		if step := math.Sqrt(least) - got; step < -1e-12 || step > math.Hypot(b[0]-a[0], b[1]-a[1])/steps {
			t.Fatalf("%v %v and %v %v: %v, by steps %v", a, b, c, d, got, math.Sqrt(least))
		}
	}
}

// TestClear: sides that keep more than 0.5 apart, and sides that do not; by hand.
func TestClear(t *testing.T) {
	square := squareAt(0, 0, 10)
	with := func(mps ...orb.MultiPolygon) orb.MultiPolygon { return slices.Concat(mps...) }
	hole := func(x, y, side float64) orb.MultiPolygon {
		return orb.MultiPolygon{{square[0][0], squareAt(x, y, side)[0][0]}}
	}
	for _, c := range []struct {
		name string
		mp   orb.MultiPolygon
		want bool
	}{
		{"a square", square, true},
		{"nothing", nil, true},
		{"two apart", with(square, squareAt(11, 0, 5)), true},
		{"two apart by just as much", with(square, squareAt(10.5, 0, 5)), false},
		{"two too near", with(square, squareAt(10.4, 0, 5)), false},
		{"two above each other, too near", with(square, squareAt(3, 10.4, 5)), false},
		{"two above each other, apart", with(square, squareAt(3, 10.6, 5)), true},
		{"corner to corner, apart", with(square, squareAt(10.4, 10.4, 5)), true},
		{"corner to corner, too near", with(square, squareAt(10.3, 10.3, 5)), false},
		{"one over the other", with(square, squareAt(5, 5, 10)), false},
		{"a hole", hole(4, 4, 2), true},
		{"a hole near the edge", hole(0.3, 4, 2), false},
		{"a needle", orb.MultiPolygon{{{{0, 0}, {10, 0.4}, {0, 0.8}, {0, 0}}}}, true},
		{"a needle folded on itself", orb.MultiPolygon{{{{0, 0}, {10, 0}, {2, 0.4}, {0, 3}, {0, 0}}}}, false},
		{"a narrow waist", orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 4}, {5, 0.4}, {0, 4}, {0, 0}}}}, false},
		{"a wide waist", orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 4}, {5, 0.6}, {0, 4}, {0, 0}}}}, true},
		{"a corner twice", orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 0}, {10, 4}, {0, 0}}}}, false},
		{"no number", orb.MultiPolygon{{{{0, 0}, {10, 0}, {math.NaN(), 4}, {0, 0}}}}, false},
	} {
		if got := isClear(c.mp, 0.5); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// TestEachNearIsEveryPair: the sweep calls do with exactly the pairs that are too near when every
// pair is tested.
func TestEachNearIsEveryPair(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 7))
	for trial := range 120 {
		var mp orb.MultiPolygon
		for range 1 + random.IntN(4) {
			ring := orb.Ring{}
			for range 3 + random.IntN(6) {
				ring = append(ring, orb.Point{float64(random.IntN(30)), float64(random.IntN(30))})
			}
			if trial%2 == 0 { // many short sides, most of which continue in the same direction
				x, y := random.IntN(4), random.IntN(4)
				for range 40 {
					if random.IntN(6) == 0 {
						x, y = random.IntN(7)-3, random.IntN(7)-3
					}
					last := ring[len(ring)-1]
					ring = append(ring, orb.Point{last[0] + float64(x*random.IntN(3)), last[1] + float64(y*random.IntN(3))})
				}
			}
			mp = append(mp, orb.Polygon{append(ring, ring[0])})
		}
		var all []side
		for i, p := range mp {
			for k := range len(p[0]) - 1 {
				all = append(all, sideOf(p[0], int32(i), int32(k)))
			}
		}
		type pair [4]int32
		key := func(s, t *side) pair {
			if s.ring > t.ring || s.ring == t.ring && s.index > t.index {
				s, t = t, s
			}
			return pair{s.ring, s.index, t.ring, t.index}
		}
		var want, got []pair
		for i := range all {
			if all[i].a == all[i].b {
				want = append(want, key(&all[i], &all[i]))
				continue
			}
			for j := range i {
				if all[j].a != all[j].b && !apartBy(&all[i], &all[j], 1.5) {
					want = append(want, key(&all[i], &all[j]))
				}
			}
		}
		eachNear(mp, 1.5, func(s, t *side) bool {
			if s == t || t.a != t.b {
				got = append(got, key(s, t))
			}
			return true
		})
		order := func(a, b pair) int { return slices.Compare(a[:], b[:]) }
		slices.SortFunc(want, order)
		slices.SortFunc(got, order)
		if d := cmp.Diff(want, got); d != "" {
			t.Fatal(d)
		}
	}
}

// TestClipTo: a triangle cut at a line in each of the four directions; by hand.
func TestClipTo(t *testing.T) {
	ring := orb.Ring{{0, 0}, {4, 0}, {0, 4}}
	for _, c := range []struct {
		name        string
		axis        int
		limit, sign float64
		want        orb.Ring
	}{
		{"right of 1", 0, 1, 1, orb.Ring{{1, 3}, {1, 0}, {4, 0}}},
		{"left of 1", 0, 1, -1, orb.Ring{{0, 0}, {1, 0}, {1, 3}, {0, 4}}},
		{"above 1", 1, 1, 1, orb.Ring{{0, 1}, {3, 1}, {0, 4}}},
		{"below 1", 1, 1, -1, orb.Ring{{0, 1}, {0, 0}, {4, 0}, {3, 1}}},
		{"all of it", 0, -1, 1, ring},
		{"none of it", 0, 5, 1, orb.Ring{}},
		{"its corner", 0, 4, 1, orb.Ring{{4, 0}, {4, 0}, {4, 0}}},
		{"its side", 0, 0, 1, ring},
	} {
		got := clipTo(ring, c.axis, c.limit, c.sign)
		if c.name == "its corner" { // the place, once for each time it is reached
			if Area(orb.MultiPolygon{{append(got, got...)}}) != 0 || slices.ContainsFunc(got, func(p orb.Point) bool { return p != (orb.Point{4, 0}) }) {
				t.Errorf("%s: %v", c.name, got)
			}
			continue
		}
		if !sameRound(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	if clipTo(nil, 0, 0, 1) != nil {
		t.Error("of nothing")
	}
}

// sameRound says whether two open rings have the same vertices in the same order, from any start.
func sameRound(a, b orb.Ring) bool {
	if len(a) != len(b) {
		return false
	}
	for k := range max(1, len(a)) {
		if slices.Equal(a, slices.Concat(b[min(k, len(b)):], b[:min(k, len(b))])) {
			return true
		}
	}
	return false
}

// TestEdgeMeets: an edge and a box from 0 to 10; by hand.
func TestEdgeMeets(t *testing.T) {
	b := boxOf(0, 0, 10, 10)
	for _, c := range []struct {
		name string
		p, q orb.Point
		want bool
	}{
		{"inside", orb.Point{1, 1}, orb.Point{2, 3}, true},
		{"through", orb.Point{-5, 5}, orb.Point{15, 6}, true},
		{"over a corner", orb.Point{-2, 3}, orb.Point{3, -2}, true},
		{"past a corner", orb.Point{-4, 2}, orb.Point{2, -4}, false},
		{"on a corner", orb.Point{-4, 4}, orb.Point{4, -4}, true},
		{"past the corner opposite", orb.Point{8, 14}, orb.Point{14, 8}, false},
		{"past the other corners", orb.Point{8, -4}, orb.Point{14, 2}, false},
		{"and the last", orb.Point{-4, 8}, orb.Point{2, 14}, false},
		{"beside", orb.Point{11, 0}, orb.Point{11, 10}, false},
		{"along a side", orb.Point{10, 3}, orb.Point{10, 20}, true},
		{"in line with a side, past it", orb.Point{10, 11}, orb.Point{10, 20}, false},
		{"below", orb.Point{0, -1}, orb.Point{10, -1}, false},
		{"above", orb.Point{0, 11}, orb.Point{10, 11}, false},
		{"left", orb.Point{-1, 0}, orb.Point{-1, 10}, false},
		{"a place", orb.Point{4, 4}, orb.Point{4, 4}, true},
		{"from below, ending at the side", orb.Point{5, -5}, orb.Point{5, 0}, true},
		{"from above", orb.Point{5, 15}, orb.Point{5, 10}, true},
		{"from the left", orb.Point{-5, 5}, orb.Point{0, 5}, true},
		{"from the right", orb.Point{15, 5}, orb.Point{10, 5}, true},
	} {
		if got := edgeMeets(c.p, c.q, b); got != c.want || edgeMeets(c.q, c.p, b) != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// TestSkylineOfEdges: an edge as a strip, from the left, cut at the box, in either direction; by
// hand.
func TestSkylineOfEdges(t *testing.T) {
	roof := orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 4}, {5, 6}, {0, 4}, {0, 0}}}} // 10 by 4 and a roof of 10
	s := SkylineOf(roof)
	within(t, "house", s.Area(), 50, 1e-12)
	within(t, "left half", s.Cut(rectangle(0, 0, 5, 20)).Area(), 25, 1e-12)
	within(t, "above the eaves", s.Cut(rectangle(-5, 4, 20, 20)).Area(), 10, 1e-12)
	within(t, "a beam", s.Shared(rectangle(-5, 1, 20, 1)), 10, 1e-12)
	within(t, "a beam in the roof", s.Shared(rectangle(-5, 5, 20, 1)), 2.5, 1e-12)
	within(t, "beside", s.Shared(rectangle(10, 0, 5, 5)), 0, 0)
	within(t, "twice cut", s.Cut(rectangle(2, 0, 6, 20)).Cut(rectangle(0, 2, 20, 2)).Area(), 12, 1e-12)
	within(t, "the roof alone, twice cut", s.Cut(rectangle(0, 4, 5, 20)).Shared(rectangle(2.5, 0, 20, 20)), 3.75, 1e-12)
	holed := orb.MultiPolygon{{roof[0][0], {{2, 1}, {2, 3}, {4, 3}, {4, 1}, {2, 1}}}}
	within(t, "with a window", SkylineOf(holed).Area(), 46, 1e-12)
	within(t, "half the window", SkylineOf(holed).Shared(rectangle(0, 0, 3, 4)), 10, 1e-12)
}

// TestInclusionAndExclusion: for random areas, union plus intersection is the sum of both areas,
// difference plus intersection is the first, in any order, and shifted and turned too.
func TestInclusionAndExclusion(t *testing.T) {
	random := rand.New(rand.NewPCG(21, 22))
	draw := func() orb.MultiPolygon {
		var ring orb.Ring
		n := 5 + random.IntN(9)
		x, y := 20*random.Float64(), 20*random.Float64()
		for i := range n {
			r := 4 + 8*random.Float64()
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			ring = append(ring, orb.Point{x + r*c, y + r*s})
		}
		return orb.MultiPolygon{{append(ring, ring[0])}}
	}
	moved := func(mp orb.MultiPolygon) orb.MultiPolygon { // turned by a 3-4-5 angle and moved far away
		out := mp.Clone()
		for _, p := range out {
			for _, r := range p {
				for i, v := range r {
					r[i] = orb.Point{0.6*v[0] - 0.8*v[1] + 1000, 0.8*v[0] + 0.6*v[1] - 2000}
				}
			}
		}
		return out
	}
	for range 40 {
		a, b := draw(), draw()
		both, all := Intersection(a, b), Union([]orb.MultiPolygon{a, b}, 1)
		about(t, "union and intersection", float64(Area(all)+Area(both)), float64(Area(a)+Area(b)), 1e-9)
		about(t, "without making it", float64(IntersectionArea(a, b)), float64(Area(both)), 1e-9)
		about(t, "from the other side", float64(IntersectionArea(b, a)), float64(Area(both)), 1e-9)
		about(t, "difference", float64(Area(Difference(a, b))+Area(both)), float64(Area(a)), 1e-9)
		about(t, "by skylines", float64(SkylineOf(a).Cut(b).Area()), float64(Area(both)), 1e-9)
		about(t, "moved", float64(IntersectionArea(moved(a), moved(b))), float64(Area(both)), 1e-8)
		about(t, "moved union", float64(Area(Union([]orb.MultiPolygon{moved(b), moved(a)}, 1))), float64(Area(all)), 1e-8)
		if err := Valid(all); err != nil {
			t.Fatal(err)
		}
	}
}

// TestBuffersOfBuffers: growing by 2 and then by 3 equals growing by 5, except for chords; and a
// convex area grown and shrunk is unchanged.
func TestBuffersOfBuffers(t *testing.T) {
	for _, mp := range []orb.MultiPolygon{squareAt(0, 0, 20), rectangle(5, 5, 40, 3), {{{{0, 0}, {30, 0}, {15, 25}, {0, 0}}}}} {
		once, twice := BufferPolygon(mp, 5, 64), BufferPolygon(BufferPolygon(mp, 2, 64), 3, 64)
		within(t, "grown twice", Area(twice), float64(Area(once)), 1e-4)
		length := 0.0
		for _, r := range mp[0] {
			for i := 1; i < len(r); i++ {
				length += math.Hypot(r[i][0]-r[i-1][0], r[i][1]-r[i-1][1])
			}
		}
		// Steiner's formula for a convex area
		within(t, "Steiner", Area(once), float64(Area(mp))+5*length+25*math.Pi, 1e-4)
		within(t, "there and back", Area(BufferPolygon(once, -5, 64)), float64(Area(mp)), 1e-4)
		within(t, "closing a convex area", Area(Closing(mp, 7)), float64(Area(mp)), 1e-4)
	}
}

// TestSpikes: spikes, where a ring turns back on itself, are removed, and rings without a rest; by
// hand.
func TestSpikes(t *testing.T) {
	square := orb.Ring{{0, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}
	for _, c := range []struct {
		name string
		ring orb.Ring
		want orb.Ring
	}{
		{"none", square, square},
		{"a repeat", orb.Ring{{0, 0}, {4, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}, square},
		{"a tip", orb.Ring{{0, 0}, {4, 0}, {9, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}, square},
		{"a tip of two steps", orb.Ring{{0, 0}, {4, 0}, {6, 0}, {9, 0}, {6, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}, square},
		{"a tip at the start", orb.Ring{{-3, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}, {-3, 0}}, orb.Ring{{0, 0}, {4, 0}, {4, 4}, {0, 4}}},
		{"straight on is no tip", orb.Ring{{0, 0}, {2, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}, orb.Ring{{0, 0}, {2, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}},
		{"nothing but a tip", orb.Ring{{0, 0}, {4, 0}, {2, 0}, {0, 0}}, nil},
	} {
		got := withoutSpikes(c.ring)
		if c.want == nil {
			if got != nil {
				t.Errorf("%s: %v", c.name, got)
			}
			continue
		}
		if len(got) < 4 || got[0] != got[len(got)-1] || Area(orb.MultiPolygon{{got}}) != 16 || c.name != "a tip at the start" && !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

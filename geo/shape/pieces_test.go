package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"driftreach/geo"
)

// TestPieceToSegment: the distance of a piece of outline from a segment; by hand, for the upper
// half of a circle of 5 m around the origin and a side from (0, 0) to (10, 0).
func TestPieceToSegment(t *testing.T) {
	arc := piece{segment: segment{orb.Point{5, 0}, orb.Point{-5, 0}}, of: circle{0, 0, 5}, start: 0, end: math.Pi}
	side := piece{segment: segment{orb.Point{0, 0}, orb.Point{10, 0}}}
	for _, c := range []struct {
		name string
		p    piece
		s    segment
		want float64
	}{
		{"over the arc", arc, segment{orb.Point{-1, 8}, orb.Point{1, 8}}, 3},
		{"over the arc, past its top", arc, segment{orb.Point{3, 8}, orb.Point{9, 8}}, math.Hypot(3, 8) - 5},
		{"through the arc", arc, segment{orb.Point{0, 0}, orb.Point{0, 9}}, 0},
		{"within, below the top", arc, segment{orb.Point{-1, 3}, orb.Point{1, 3}}, 5 - math.Hypot(1, 3)},
		{"below, where no arc is", arc, segment{orb.Point{0, -8}, orb.Point{1, -8}}, math.Hypot(4, 8)},
		{"beside an end", arc, segment{orb.Point{8, -4}, orb.Point{8, -9}}, 5},
		{"a place over it", arc, segment{orb.Point{6, 8}, orb.Point{6, 8}}, 5},
		{"a place in the middle", arc, segment{orb.Point{0, 0}, orb.Point{0, 0}}, 5},
		{"over the side", side, segment{orb.Point{3, 2}, orb.Point{4, 6}}, 2},
		{"across the side", side, segment{orb.Point{3, 2}, orb.Point{4, -6}}, 0},
		{"past the side", side, segment{orb.Point{13, 4}, orb.Point{14, 9}}, 5},
		{"a long one over its end", side, segment{orb.Point{9, 3}, orb.Point{30, 3}}, 3},
		{"a long one beyond its end", side, segment{orb.Point{13, -20}, orb.Point{13, 20}}, 3},
	} {
		about(t, c.name, c.p.distance(c.s), c.want, 1e-12)
		about(t, c.name+", turned", c.p.distance(segment{c.s.b, c.s.a}), c.want, 1e-12)
	}
	about(t, "segment and place", segment{orb.Point{0, 0}, orb.Point{4, 0}}.distance(orb.Point{7, 4}), 5, 1e-12)
	about(t, "place and place", segment{orb.Point{1, 1}, orb.Point{1, 1}}.distance(orb.Point{4, 5}), 5, 1e-12)
}

// TestPieceToSegmentBySteps: the same at random, compared with places along both, a thousandth
// apart.
func TestPieceToSegmentBySteps(t *testing.T) {
	random := rand.New(rand.NewPCG(61, 62))
	for range 200 {
		c := circle{10 * random.Float64(), 10 * random.Float64(), 1 + 5*random.Float64()}
		start := 6 * random.Float64()
		p := piece{of: c, start: start, end: start + 0.1 + 5*random.Float64()}
		p.segment = segment{c.at(stop{p.start, c.r}), c.at(stop{p.end, c.r})}
		s := segment{orb.Point{20*random.Float64() - 5, 20*random.Float64() - 5}, orb.Point{20*random.Float64() - 5, 20*random.Float64() - 5}}
		least := math.Inf(1)
		const steps = 2000
		for i := range steps + 1 {
			angle := p.start + (p.end-p.start)*float64(i)/steps
			least = min(least, s.distance(c.at(stop{angle, c.r})))
		}
		got := p.distance(s)
		if got > least+1e-9 || got < least-6*c.r/steps {
			t.Fatalf("%+v and %+v: %v, by steps %v", p, s, got, least)
		}
	}
}

// TestAround: the disc contains the arc and is no larger than necessary; by hand and by places on
// the arc.
func TestAround(t *testing.T) {
	c := circle{3, 4, 10}
	for _, turn := range []float64{0.1, 1, math.Pi / 2, math.Pi, 4, 2 * math.Pi} {
		mid, half := c.around(0.5, 0.5+turn)
		for i := range 101 {
			p := c.at(stop{0.5 + turn*float64(i)/100, 10})
			if d := math.Hypot(p[0]-mid[0], p[1]-mid[1]); d > half+1e-9 {
				t.Fatalf("turn %v: a place lies %v from the middle, the disc has %v", turn, d, half)
			}
		}
		if half > 10 {
			t.Errorf("turn %v: a disc of %v", turn, half)
		}
	}
	_, half := c.around(0, math.Pi/2)
	about(t, "a quarter", half, 20*math.Sin(math.Pi/8), 1e-12)
}

// TestWindows: for random capsules and segments, a side or arc near a capsule is never excluded;
// the distance decides.
func TestWindows(t *testing.T) {
	random := rand.New(rand.NewPCG(71, 72))
	denied := 0
	for range 2000 {
		draw := func() orb.Point { return orb.Point{30 * random.Float64(), 30 * random.Float64()} }
		s := newCapsules([]orb.LineString{{draw(), draw()}}, []float64{0.5 + 3*random.Float64()})
		a, b := draw(), draw()
		a[0], a[1], b[0], b[1] = a[0]-s.origin[0], a[1]-s.origin[1], b[0]-s.origin[0], b[1]-s.origin[1]
		k := s.capsules[0]
		p, q := orb.Point{s.nodes[k.a].x, s.nodes[k.a].y}, orb.Point{s.nodes[k.b].x, s.nodes[k.b].y}
		apart := math.Sqrt(segmentToSegment(a, b, p, q))
		if !s.mayReach(a[0], a[1], b[0], b[1], 0) {
			denied++
			if apart < k.r {
				t.Fatalf("a segment %v m off a capsule %v wide is said not to reach it", apart, k.r)
			}
		}
		half := 2 * random.Float64()
		if off := math.Sqrt(pointToSegment(a, p, q)); s.mayTouch(a, half, 0) != (off <= half+k.r) && math.Abs(off-half-k.r) > 1e-9 {
			t.Fatalf("a disc of %v, %v m off a capsule %v wide", half, off, k.r)
		}
		if got, want := s.covers(&capsuleScratch{mark: make([]int32, 1)}, a), math.Sqrt(pointToSegment(a, p, q)) < k.r; got != want {
			t.Fatalf("covers: %v, want %v", got, want)
		}
	}
	if denied < 500 {
		t.Errorf("only %d denied", denied)
	}
}

// TestJoints: the arcs that the lines through a node leave open; by hand: at the end of a line half
// a circle, at a bend of 90 degrees a quarter, straight on and at a star of four none.
func TestJoints(t *testing.T) {
	open := func(lines ...orb.LineString) map[orb.Point]float64 {
		radius := slices.Repeat([]float64{2}, len(lines))
		s := newCapsules(lines, radius)
		out := map[orb.Point]float64{}
		for i, j := range s.joints {
			out[orb.Point{s.nodes[i].x + s.origin[0], s.nodes[i].y + s.origin[1]}] = j.end - j.start
		}
		return out
	}
	for _, c := range []struct {
		name  string
		lines []orb.LineString
		want  map[orb.Point]float64
	}{
		{"a line", []orb.LineString{{{0, 0}, {10, 0}}}, map[orb.Point]float64{{0, 0}: math.Pi, {10, 0}: math.Pi}},
		{"a place", []orb.LineString{{{3, 3}}}, map[orb.Point]float64{{3, 3}: 2 * math.Pi}},
		{"a place named twice", []orb.LineString{{{3, 3}, {3, 3}}}, map[orb.Point]float64{{3, 3}: 2 * math.Pi}},
		{"a right angle", []orb.LineString{{{0, 0}, {10, 0}, {10, 10}}}, map[orb.Point]float64{{0, 0}: math.Pi, {10, 0}: math.Pi / 2, {10, 10}: math.Pi}},
		{"a right angle to the right", []orb.LineString{{{0, 0}, {10, 0}, {10, -10}}}, map[orb.Point]float64{{0, 0}: math.Pi, {10, 0}: math.Pi / 2, {10, -10}: math.Pi}},
		{"straight on", []orb.LineString{{{0, 0}, {5, 0}, {10, 0}}}, map[orb.Point]float64{{0, 0}: math.Pi, {5, 0}: 0, {10, 0}: math.Pi}},
		{"a star", []orb.LineString{{{-9, 0}, {0, 0}, {9, 0}}, {{0, -9}, {0, 0}, {0, 9}}}, map[orb.Point]float64{{0, 0}: 0, {-9, 0}: math.Pi, {9, 0}: math.Pi, {0, -9}: math.Pi, {0, 9}: math.Pi}},
		{"a line there and back", []orb.LineString{{{0, 0}, {10, 0}, {0, 0}}}, map[orb.Point]float64{{0, 0}: math.Pi, {10, 0}: math.Pi}},
		{"a sharp turn", []orb.LineString{{{0, 10}, {0, 0}, {10, 10}}}, map[orb.Point]float64{{0, 0}: 3 * math.Pi / 4, {0, 10}: math.Pi, {10, 10}: math.Pi}},
	} {
		got := open(c.lines...)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v", c.name, got)
		}
		for p, want := range c.want {
			about(t, fmt.Sprintf("%s, at %v", c.name, p), got[p], want, 1e-9)
		}
	}
	// invalid radii and places are ignored
	s := newCapsules([]orb.LineString{{{0, 0}, {9, 0}}, {{0, 5}, {9, 5}}, {{0, 7}, {9, 7}}, {{math.NaN(), 0}, {1, 1}, {4, 5}}}, []float64{0, -1, math.Inf(1), 1})
	if len(s.capsules) != 1 || s.capsules[0].length != 5 || s.capsules[0].line != 3 {
		t.Errorf("%+v", s.capsules)
	}
}

// TestRayInCapsule: the part of a line inside a capsule, compared with places along it: its ends
// are on the rim, places between are inside, places before and after outside.
func TestRayInCapsule(t *testing.T) {
	random := rand.New(rand.NewPCG(81, 82))
	hits := 0
	for range 1500 {
		draw := func() orb.Point { return orb.Point{20 * random.Float64(), 20 * random.Float64()} }
		lines := []orb.LineString{{draw(), draw()}, {draw(), draw()}}
		if random.IntN(5) == 0 {
			lines[1][1] = lines[1][0] // a disc
		}
		s := newCapsules(lines, []float64{1 + 2*random.Float64(), 1 + 4*random.Float64()})
		l := s.sideLine(0)
		c, ok := s.lineInCapsule(0, l, 1, -1)
		j := s.capsules[1]
		p, q := orb.Point{s.nodes[j.a].x, s.nodes[j.a].y}, orb.Point{s.nodes[j.b].x, s.nodes[j.b].y}
		off := func(v float64) float64 {
			return math.Sqrt(pointToSegment(orb.Point{l.x + v*l.dx, l.y + v*l.dy}, p, q)) - j.r
		}
		if !ok {
			for v := -30.0; v < 30; v += 0.1 {
				if off(v) < -1e-3 {
					t.Fatalf("%v lies within by %v, and the line is said not to", v, off(v))
				}
			}
			continue
		}
		hits++
		about(t, "rim at the beginning", off(c.lo), 0, 1e-6)
		about(t, "rim at the end", off(c.hi), 0, 1e-6)
		if off((c.lo+c.hi)/2) > 1e-9 || off(c.lo-0.01) < 0 || off(c.hi+0.01) < 0 {
			t.Fatalf("from %v to %v", c.lo, c.hi)
		}
	}
	if hits < 300 {
		t.Errorf("%d hits", hits)
	}
}

// TestBorders: the remaining edges of areas side by side: shared ones drop out; by hand.
func TestBorders(t *testing.T) {
	w := newBorders([]orb.MultiPolygon{squareAt(0, 0, 2), squareAt(2, 0, 2), squareAt(0, 0, 2)})
	loop, beside := w.loop()
	if area := signedArea(loop); area != 8 || beside != 0 {
		t.Errorf("%v beside %d", loop, beside)
	}
	if more, _ := w.loop(); more != nil {
		t.Errorf("more: %v", more)
	}
	// one corner of a neighbour is in the middle of a side
	w = newBorders([]orb.MultiPolygon{rectangle(0, 0, 4, 2), rectangle(0, 2, 2, 2), rectangle(2, 2, 2, 2)})
	if loop, _ = w.loop(); signedArea(loop) != 16 {
		t.Errorf("%v", loop)
	}
}

// TestPlacesInside: a place to go to in shapes that do not contain the middle of their box; by
// hand: a horseshoe, a ring, and random shapes in which the result must be inside, and as far from
// the outline as half the stretch allows.
func TestPlacesInside(t *testing.T) {
	shoe := orb.MultiPolygon{{{{0, 0}, {10, 0}, {10, 10}, {7, 10}, {7, 3}, {3, 3}, {3, 10}, {0, 10}, {0, 0}}}}
	ring := orb.MultiPolygon{{rectangle(0, 0, 10, 10)[0][0], {{2, 2}, {2, 8}, {8, 8}, {8, 2}, {2, 2}}}}
	for _, c := range []struct {
		name string
		mp   orb.MultiPolygon
		near orb.Point
		want orb.Point
	}{
		{"itself", shoe, orb.Point{1, 1}, orb.Point{1, 1}},
		{"between the legs, to the nearer", shoe, orb.Point{4.9, 6}, orb.Point{1.5, 6}},
		{"between the legs, to the other", shoe, orb.Point{5.1, 6}, orb.Point{8.5, 6}},
		{"above, where nothing is level with it", shoe, orb.Point{5, 20}, orb.Point{1.5, 5}}, // half-way up, the first of two equally near
		{"in the hole of a ring", ring, orb.Point{4, 5}, orb.Point{1, 5}},
		{"beside", ring, orb.Point{-5, 1}, orb.Point{5, 1}},
	} {
		got, ok := Inside(c.mp, c.near, 0)
		if !ok || math.Abs(got[1]-c.want[1]) > 1e-12 || math.Abs(got[0]-c.want[0]) > 1e-12 && c.name != "above, where nothing is level with it" {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		if !Contains(c.mp, got) {
			t.Errorf("%s: %v lies outside", c.name, got)
		}
	}
	if got, ok := Inside(nil, orb.Point{3, 4}, 0); ok || got != (orb.Point{3, 4}) {
		t.Errorf("in nothing: %v, %v", got, ok)
	}
	flat := orb.MultiPolygon{{{{0, 0}, {4, 0}, {0, 0}, {0, 0}}}}
	if _, ok := Inside(flat, orb.Point{3, 4}, 0); ok {
		t.Error("in a line")
	}
	if _, ok := Amid(flat); ok {
		t.Error("amid a line")
	}
	if got, ok := Amid(append(shoe.Clone(), rectangle(50, 50, 9, 9)...)); !ok || got != (orb.Point{54.5, 54.5}) {
		t.Errorf("amid the largest: %v", got) // 81 and 72 m2
	}
	// the centroid's level, against orb's
	for _, mp := range []orb.MultiPolygon{shoe, ring, rectangle(3, 4, 5, 6)} {
		want, _ := planar.CentroidArea(mp[0])
		about(t, "level of the centroid", centroidLevel(mp[0]), want[1], 1e-9)
		back := mp.Clone()
		for _, r := range back[0] {
			slices.Reverse(r)
		}
		about(t, "wound the other way", centroidLevel(back[0]), want[1], 1e-9)
	}
	if got := levelCuts(ring, 5); !slices.Equal(got, []float64{0, 2, 8, 10}) {
		t.Errorf("cuts %v", got)
	}
	if got := levelCuts(ring, 10); len(got) != 0 {
		t.Errorf("cuts at the top %v", got)
	}
}

// TestVertexSteps: a vertex step changes the area by its gain; the gains of two steps that are
// apart add up.
func TestVertexSteps(t *testing.T) {
	random := rand.New(rand.NewPCG(91, 92))
	for range 50 {
		var ring orb.Ring
		n := 4 + random.IntN(6)
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := 50 + 50*random.Float64()
			ring = append(ring, orb.Point{math.Round(r * c), math.Round(r * s)})
		}
		ring = append(ring, ring[0])
		hole := orb.Ring{{-10, -10}, {-10, 10}, {10, 10}, {10, -10}, {-10, -10}}
		for _, back := range []bool{false, true} {
			mp := orb.MultiPolygon{{slices.Clone(ring), slices.Clone(hole)}}
			if back {
				slices.Reverse(mp[0][0])
				slices.Reverse(mp[0][1])
			}
			all := new(stepRoom).steps(movedRings(mp, nil, 1), nil)
			for i := 1; i < len(all); i++ {
				if all[i].gain < all[i-1].gain {
					t.Fatal("not sorted by gain")
				}
			}
			for i := range all {
				before := float64(Area(mp))
				all[i].make()
				about(t, "gain", float64(Area(mp))-before, all[i].gain, 1e-9)
				if mp[0][0][0] != mp[0][0][len(ring)-1] {
					t.Fatal("the ring has come open")
				}
				j := random.IntN(len(all))
				if all[i].apart(&all[j]) {
					all[j].make()
					about(t, "gain of two", float64(Area(mp))-before, all[i].gain+all[j].gain, 1e-9)
					r := all[j].of.ring
					if r[all[j].v][all[j].axis] -= all[j].step; all[j].v == 0 {
						r[len(r)-1] = r[0]
					}
				}
				r := all[i].of.ring
				if r[all[i].v][all[i].axis] -= all[i].step; all[i].v == 0 {
					r[len(r)-1] = r[0]
				}
			}
		}
	}
}

// TestLeastLeft: of random steps, the one, two or three that leave the smallest rest, compared with
// every one and every pair.
func TestLeastLeft(t *testing.T) {
	random := rand.New(rand.NewPCG(101, 102))
	for range 100 {
		ring := orb.Ring{}
		for i := range 9 {
			s, c := math.Sincos(2 * math.Pi * float64(i) / 9)
			ring = append(ring, orb.Point{math.Round((300 + 200*random.Float64()) * c), math.Round((300 + 200*random.Float64()) * s)})
		}
		mp := orb.MultiPolygon{{append(ring, ring[0])}}
		all := new(stepRoom).steps(movedRings(mp, nil, 1), nil)
		wanted := 400*random.Float64() - 200
		want := math.Inf(1)
		for i := range all {
			want = min(want, math.Abs(wanted-all[i].gain))
			for j := range i {
				if all[i].apart(&all[j]) {
					want = min(want, math.Abs(wanted-all[i].gain-all[j].gain))
				}
			}
		}
		best, left := pairLeft(all, wanted, nil)
		sum := 0.0
		for _, m := range best {
			sum += m.gain
		}
		about(t, "what one or two leave", left, want, 1e-9)
		about(t, "what the best come to", math.Abs(wanted-sum), left, 1e-9)
		three, rest := leastLeft(all, wanted)
		sum = 0
		for _, m := range three {
			sum += m.gain
		}
		about(t, "what three come to", math.Abs(wanted-sum), rest, 1e-9)
		if rest > min(want, math.Abs(wanted))+1e-9 || rest > closeEnough && len(three) == 2 && want > rest+1e-9 {
			t.Errorf("%v left of %v, two leave %v", rest, wanted, want)
		}
	}
	if best, left := leastLeft(nil, 3); best != nil || left != 3 {
		t.Errorf("of no steps: %v, %v", best, left)
	}
}

// TestGridKeepsArea: random areas on a grid of millimetres: every vertex on it, valid, and the area
// within a few square steps of the original.
func TestGridKeepsArea(t *testing.T) {
	random := rand.New(rand.NewPCG(111, 112))
	measure := func(mp orb.MultiPolygon) float64 { return float64(Area(mp)) }
	for range 40 {
		var discs []Disc
		for range 1 + random.IntN(8) {
			discs = append(discs, Disc{orb.Point{30 * random.Float64(), 30 * random.Float64()}, geo.Meters(2 + 6*random.Float64())})
		}
		mp := UnionDiscs(discs)
		plain, kept := OnGrid(mp, 1000), OnGridOfArea(mp, 1000, measure(mp), measure(mp))
		for name, got := range map[string]orb.MultiPolygon{"plain": plain, "of area": kept} {
			if err := Valid(got); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			for _, p := range got {
				for _, r := range p {
					for _, v := range r {
						if math.Abs(v[0]*1000-math.Round(v[0]*1000)) > 1e-9 || math.Abs(v[1]*1000-math.Round(v[1]*1000)) > 1e-9 {
							t.Fatalf("%s: %v is not on the grid", name, v)
						}
					}
				}
			}
		}
		// a square step is 1e-6 m2
		about(t, "area kept", measure(kept), measure(mp), closeEnough*1e-6)
		if off := math.Abs(measure(plain) - measure(mp)); off > 1e-3*float64(vertices(mp)) {
			t.Errorf("rounded alone: %v off", off)
		}
	}
}

// TestChainsByHand: a chain of three edges over 0 to 6: heights, the area under it, and the common
// area of two where one is above the other, where they cross, and where they only overlap.
func TestChainsByHand(t *testing.T) {
	k := chainer{reach: boxOf(0, 0, 10, 10)}
	make := func(points ...orb.Point) *chain {
		c, ok := k.chain(points, true, 1)
		if !ok {
			t.Fatal("a chain that does not matter")
		}
		return &c
	}
	c := make(orb.Point{0, 2}, orb.Point{2, 4}, orb.Point{4, 4}, orb.Point{6, 0})
	if c.left() != 0 || c.right() != 6 || c.low != 0 || c.high != 4 || c.sign != -1 {
		t.Errorf("%+v", c)
	}
	for x, want := range map[float64]int{0: 0, 1: 0, 2: 0, 2.5: 1, 4: 1, 5: 2, 6: 2} {
		if got := c.edge(x); got != want {
			t.Errorf("edge over %v: %d, want %d", x, got, want)
		}
	}
	for x, want := range map[float64]float64{0: 0, 1: 2.5, 2: 6, 3: 10, 4: 14, 5: 17, 6: 18} {
		about(t, fmt.Sprint("under it left of ", x), c.before(x), want, 1e-12)
	}
	about(t, "height", c.height(2, 5), 2, 0)
	flat := make(orb.Point{1, 3}, orb.Point{5, 3})
	want := 0.0
	const steps = 40000
	for i := range steps {
		x := 1 + 4*(float64(i)+0.5)/steps
		want += min(3, c.height(c.edge(x), x)) * 4 / steps
	}
	about(t, "crossing, by steps", sharedUnderChains(c, flat), want, 1e-6)
	about(t, "crossing, from the other", sharedUnderChains(flat, c), want, 1e-6)
	high := make(orb.Point{-2, 9}, orb.Point{8, 9})
	about(t, "all above", sharedUnderChains(c, high), 18, 1e-12)
	about(t, "all above, from the other", sharedUnderChains(high, c), 18, 1e-12)
	part := make(orb.Point{3, 8}, orb.Point{9, 5})
	about(t, "over a part", sharedUnderChains(c, part), 8, 1e-12)
	if _, ok := k.chain([]orb.Point{{-5, 1}, {-1, 1}}, true, 1); ok {
		t.Error("left of the box")
	}
	if _, ok := k.chain([]orb.Point{{11, 1}, {12, 1}}, true, 1); ok {
		t.Error("right of the box")
	}
	if _, ok := k.chain([]orb.Point{{1, -3}, {2, -1}}, true, 1); ok {
		t.Error("below the box")
	}
	if up, ok := k.chain([]orb.Point{{5, 1}, {1, 2}}, false, 1); !ok || up.sign != 1 || up.left() != 1 {
		t.Errorf("a chain the other way: %+v", up)
	}
}

// TestMeanLower: the mean of the lower of two sides over a stretch: by hand where one is lower
// throughout and where they cross; at random compared with small steps.
func TestMeanLower(t *testing.T) {
	about(t, "the first", meanLower(1, 3, 5, 4), 2, 1e-12)
	about(t, "the second", meanLower(5, 4, 1, 3), 2, 1e-12)
	about(t, "crossing in the middle", meanLower(0, 4, 4, 0), 1, 1e-12)
	about(t, "touching at the end", meanLower(0, 4, 4, 4), 2, 1e-12)
	random := rand.New(rand.NewPCG(121, 122))
	for range 300 {
		p0, p1, q0, q1 := random.Float64(), random.Float64(), random.Float64(), random.Float64()
		sum := 0.0
		const steps = 2000
		for i := range steps {
			x := (float64(i) + 0.5) / steps
			sum += min(p0+x*(p1-p0), q0+x*(q1-q0)) / steps
		}
		about(t, "by steps", meanLower(p0, p1, q0, q1), sum, 1e-6)
	}
}

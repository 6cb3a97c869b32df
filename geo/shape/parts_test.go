package shape

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// TestChord: two circles of 13 and 15 m with centres 14 m apart share a chord of 24 m, 5 m
// from the first (the 13-14-15 triangle); by hand.
func TestChord(t *testing.T) {
	along, half := chord(13, 15, 14*14)
	about(t, "along", along, 5, 1e-12)
	about(t, "half", half, 12, 1e-12)
	along, half = chord(15, 13, 14*14)
	about(t, "along from the other", along, 9, 1e-12)
	about(t, "half from the other", half, 12, 1e-12)
	if _, half = chord(5, 3, 8*8); half > 1e-6 {
		t.Errorf("circles that touch share a chord of %v", half)
	}
	for _, c := range []struct {
		sum, d float64
		want   bool
	}{{5, 4.9, true}, {5, 5, false}, {5, 5 - 1e-10, false}, {5, 5 - 1e-8, true}, {5, 6, false}} {
		if got := crosses(c.sum, c.d*c.d); got != c.want {
			t.Errorf("radii of %v, %v apart: %v", c.sum, c.d, got)
		}
	}
}

// TestArcIntegral: for a whole circle its area, for halves half of it, anywhere; by Green's theorem
// a closed outline of arcs has the area for any origin.
func TestArcIntegral(t *testing.T) {
	for _, c := range []circle{{0, 0, 2}, {7, -3, 2}} {
		about(t, "whole", arcIntegral(c, 0, 2*math.Pi), 4*math.Pi, 1e-12)
		about(t, "whole, from elsewhere", arcIntegral(c, 1, 1+2*math.Pi), 4*math.Pi, 1e-12)
		about(t, "by quarters", arcIntegral(c, 0, 1)+arcIntegral(c, 1, 4)+arcIntegral(c, 4, 2*math.Pi), 4*math.Pi, 1e-12)
	}
	// the upper half of a circle about (0, 5), with the chord back
	about(t, "upper half and chord", arcIntegral(circle{0, 5, 2}, 0, math.Pi)+chordIntegral(orb.Point{-2, 5}, orb.Point{2, 5}), 2*math.Pi, 1e-12)
	about(t, "a lens", arcIntegral(circle{0, 0, 2}, -math.Pi/3, math.Pi/3)+arcIntegral(circle{2, 0, 2}, math.Pi*2/3, math.Pi*4/3),
		2*(4*math.Pi/3-math.Sqrt(3)), 1e-12)
}

// chordIntegral is half the integral of x dy - y dx along a straight side.
func chordIntegral(a, b orb.Point) float64 { return (a[0]*b[1] - b[0]*a[1]) / 2 }

// TestNewGroup: which discs are kept and which are connected; by hand.
func TestNewGroup(t *testing.T) {
	discs := []Disc{
		{orb.Point{100, 100}, 5}, {orb.Point{108, 100}, 5}, // connected
		{orb.Point{100, 100}, 3},                           // with the same centre
		{orb.Point{109, 100}, 1},                           // inside the second
		{orb.Point{130, 100}, 4}, {orb.Point{138, 100}, 4}, // touching without crossing
		{orb.Point{200, 100}, 2}, // alone
		{orb.Point{0, 0}, 0}, {orb.Point{math.NaN(), 0}, 9}, {orb.Point{0, 0}, -1}, {orb.Point{0, 0}, geo.Meters(math.Inf(1))},
	}
	g := newGroup(discs, 0, 0)
	want := []circle{{0, 0, 5}, {8, 0, 5}, {30, 0, 4}, {38, 0, 4}, {100, 0, 2}}
	if !slices.Equal(g.circles, want) || g.origin != (orb.Point{100, 100}) {
		t.Errorf("%v about %v", g.circles, g.origin)
	}
	if !slices.Equal(g.component, []int32{0, 0, 2, 3, 4}) || g.largest != 5 {
		t.Errorf("components %v, largest %v", g.component, g.largest)
	}
	if len(g.touches) != 2 || g.touches[0].circle != 2 || g.touches[1].circle != 3 {
		t.Fatalf("touches %v", g.touches)
	}
	about(t, "direction of the first touch", g.touches[0].angle, 0, 1e-12)
	about(t, "direction of the second", g.touches[1].angle, math.Pi, 1e-12)
	about(t, "gap", g.touches[0].gap, 0, 1e-12)
	grown := newGroup(discs, 3, 0) // enlarged, those of 4 m cross; those of 5 m and 4 m do not touch
	if grown.component.Find(2) != grown.component.Find(3) || grown.component.Find(1) == grown.component.Find(2) {
		t.Errorf("grown: components %v", grown.component)
	}
	about(t, "grown radius", grown.circles[0].r, 8, 0)
	inner := newGroup([]Disc{{orb.Point{0, 0}, 2}, {orb.Point{1, 0}, 3}}, 0, 0)
	if len(inner.circles) != 1 || inner.circles[0].r != 3 {
		t.Errorf("one that touches from within stays: %v", inner.circles)
	}
}

// TestCovers: the uncovered part of a circle that two others cover from the right, and from the
// left past the full turn; by hand. Circles of 10 m whose centres are 10 m apart cover 120 degrees
// of each other.
func TestCovers(t *testing.T) {
	const third = 2 * math.Pi / 3
	g := newGroup([]Disc{{orb.Point{0, 0}, 10}, {orb.Point{10, 0}, 10}}, 0, 0)
	arcs := g.exposed()
	if len(arcs) != 2 {
		t.Fatalf("%d arcs", len(arcs))
	}
	for _, a := range arcs {
		about(t, "exposed", a.end-a.start, 2*third, 1e-12)
	}
	about(t, "left circle from", math.Mod(arcs[0].start, 2*math.Pi), third/2, 1e-12)
	about(t, "place", arcs[0].first[0], 5, 1e-12)
	about(t, "place", arcs[0].first[1], 10*math.Sin(third/2), 1e-9)
	about(t, "the other place", arcs[0].last[1], -10*math.Sin(third/2), 1e-9)
	if arcs[0].from != 1 || arcs[0].to != 1 || arcs[1].from != 0 || arcs[1].to != 0 {
		t.Errorf("%+v", arcs)
	}
	if far := startReach([]cover{{1, 2, 7}, {2.5, 3, 8}, {3.5, 6.5, 9}}); far != (cover{-0.5, 2.5, 9}) {
		t.Errorf("%v", far)
	}
}

// TestSectors: the parts of a turn that covers are known to cover are those inside one of them, but for
// the parts that only just are.
func TestSectors(t *testing.T) {
	dice := rand.New(rand.NewPCG(5, 3))
	full := 0
	for n := range 20_000 {
		var known sectors
		covers := make([]cover, 1+n%12)
		for i := range covers {
			lo := fullTurn * dice.Float64()
			covers[i] = cover{lo, lo + fullTurn*math.Pow(dice.Float64(), 2), int32(i)}
			known = known.with(covers[i])
		}
		inside := func(lo, hi float64) bool {
			return slices.ContainsFunc(covers, func(c cover) bool { return c.lo <= lo && hi <= c.hi || c.lo <= lo+fullTurn && hi+fullTurn <= c.hi })
		}
		for k := range 64 {
			lo, hi := float64(k)/sectorsInQuarter, float64(k+1)/sectorsInQuarter
			if marked := known>>k&1 == 1; marked && !inside(lo, hi) || !marked && inside(lo-1e-9, hi+1e-9) {
				t.Fatalf("%v: part %d is marked: %v", covers, k, marked)
			}
		}
		if known == allSectors {
			full++
		}
	}
	if full < 1000 {
		t.Errorf("only %d full turns", full)
	}
}

// TestQuarters: the place of a direction in a turn is exact at whole quarters and halves of them, has
// the order of math.Atan2, and is 2 from that of the opposite direction.
func TestQuarters(t *testing.T) {
	for k, at := range []orb.Point{{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, math.Copysign(0, -1)}} {
		if got, want := quarters(3*at[0], 3*at[1]), float64(k%8)/2; got != want {
			t.Errorf("%v: %v, want %v", at, got, want)
		}
	}
	if got := quarters(1, -1e-20); got != 0 && got < 3.9 || got >= fullTurn {
		t.Errorf("just below +x: %v", got)
	}
	dice := rand.New(rand.NewPCG(3, 5))
	last, lastAngle := 0.0, 0.0
	for range 100_000 {
		x, y := dice.NormFloat64(), dice.NormFloat64()
		q, angle := quarters(x, y), math.Mod(math.Atan2(y, x)+2*math.Pi, 2*math.Pi)
		if (q < last) != (angle < lastAngle) || q < 0 || q >= fullTurn {
			t.Fatalf("%v, %v: %v after %v, angle %v after %v", x, y, q, last, angle, lastAngle)
		}
		if d := math.Abs(quarters(-x, -y) - q); math.Abs(d-2) > 1e-15 {
			t.Fatalf("%v, %v: %v from the opposite direction", x, y, d)
		}
		last, lastAngle = q, angle
	}
}

// TestAngles: a cover's ends in quarters and as angles are the same directions in the same turn, by
// math.Sincos, also where an end lies in the direction of +x.
func TestAngles(t *testing.T) {
	dice := rand.New(rand.NewPCG(7, 9))
	for n := range 20_000 {
		r, s := 5+dice.Float64(), 5+20*dice.Float64()
		d := max(r, s) - min(r, s) + 2*min(r, s)*(0.01+0.98*dice.Float64())
		about, width := 2*math.Pi*dice.Float64(), math.Acos((r*r+d*d-s*s)/(2*r*d))
		if n%4 == 0 {
			about = width * float64(n%8/4*2-1) // from or up to +x, but for rounding
		}
		sin, cos := math.Sincos(about)
		g := &group{circles: []circle{{0, 0, r}, {d * cos, d * sin, s}}, largest: max(r, s)}
		c := g.appendCover(nil, 0, 1, new(sectors))[0]
		lo, hi := g.angles(0, c)
		for _, end := range [][2]float64{{c.lo, lo}, {c.hi, hi}} {
			sin, cos := math.Sincos(end[1])
			turns := math.Floor((end[1] + 1e-9) / (2 * math.Pi))
			if want := quarters(cos, sin) + fullTurn*turns; math.Abs(end[0]-want) > 1e-9 && math.Abs(math.Abs(end[0]-want)-fullTurn) > 1e-9 {
				t.Fatalf("%v: %v quarters, angle %v", g.circles, end[0], end[1])
			}
			if off := math.Abs(end[0]/fullTurn - end[1]/(2*math.Pi)); off > 0.05 {
				t.Fatalf("%v: %v quarters and angle %v in different turns", g.circles, end[0], end[1])
			}
		}
		if hi-lo < 0 || hi-lo > 2*math.Pi || math.Abs((hi-lo)/2-width) > 1e-7 {
			t.Fatalf("%v: covered %v, want %v", g.circles, hi-lo, 2*width)
		}
	}
}

// TestIntervals: stretches added to each other, by hand, and at random compared with a raster.
func TestIntervals(t *testing.T) {
	s := func(lo, hi float64, in, out int32) stretch { return stretch{lo, hi, in, out} }
	var c intervals
	for _, add := range []stretch{s(5, 7, 1, 2), s(1, 2, 3, 4), s(9, 12, 5, 6)} {
		c = c.add(add)
	}
	if !slices.Equal(c, intervals{s(1, 2, 3, 4), s(5, 7, 1, 2), s(9, 12, 5, 6)}) {
		t.Fatalf("%v", c)
	}
	if got := slices.Clone(c).add(s(6, 8, 7, 8)); !slices.Equal(got, intervals{s(1, 2, 3, 4), s(5, 8, 1, 8), s(9, 12, 5, 6)}) {
		t.Errorf("over the end of one: %v", got)
	}
	if got := slices.Clone(c).add(s(1.5, 10, 7, 8)); !slices.Equal(got, intervals{s(1, 12, 3, 6)}) {
		t.Errorf("over three: %v", got)
	}
	if got := slices.Clone(c).add(s(5.5, 6, 7, 8)); !slices.Equal(got, c) {
		t.Errorf("within one: %v", got)
	}
	if got := slices.Clone(c).add(s(0, 13, 7, 8)); !slices.Equal(got, intervals{s(0, 13, 7, 8)}) {
		t.Errorf("over all: %v", got)
	}
	for _, q := range []struct{ lo, hi, from, to float64 }{
		{0, 20, 0, 20}, {1.5, 20, 2, 20}, {0, 10, 0, 9}, {1.5, 6, 2, 5}, {5.5, 6.5, 7, 5}, {3, 4, 3, 4}, {7, 9, 7, 9}, {2, 5, 2, 5},
	} {
		if from, to := c.open(q.lo, q.hi); from != q.from || to != q.to {
			t.Errorf("open from %v to %v: %v to %v, want %v to %v", q.lo, q.hi, from, to, q.from, q.to)
		}
	}
	random := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		var c intervals
		var covered [200]bool // in half units, so that touching stretches merge
		for k := range 1 + random.IntN(12) {
			lo := random.IntN(90)
			hi := lo + 1 + random.IntN(9)
			c = c.add(s(float64(lo), float64(hi), int32(k), int32(k)))
			for x := 2 * lo; x <= 2*hi; x++ {
				covered[x] = true
			}
		}
		for i, part := range c {
			if part.lo >= part.hi || i > 0 && c[i-1].hi >= part.lo {
				t.Fatalf("%v", c)
			}
		}
		for x, is := range covered {
			at := float64(x) / 2
			if in := slices.ContainsFunc(c, func(p stretch) bool { return p.lo <= at && at <= p.hi }); in != is {
				t.Fatalf("%v: at %v %v, want %v", c, at, in, is)
			}
		}
	}
}

// TestCapsuleGrid: every capsule that comes within its own width of a box is found once, for
// random, horizontal and vertical lines and lines of one place.
func TestCapsuleGrid(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 3))
	for round := range 60 {
		var lines []orb.LineString
		var radii []float64
		for range 1 + random.IntN(30) {
			a := orb.Point{200 * random.Float64(), 50 * random.Float64()}
			b := orb.Point{a[0] + 60*random.Float64() - 30, a[1] + 60*random.Float64() - 30}
			switch random.IntN(4) {
			case 0:
				b = a
			case 1:
				b[0] = a[0]
			case 2:
				b[1] = a[1]
			}
			lines, radii = append(lines, orb.LineString{a, b}), append(radii, 1+5*random.Float64())
		}
		s := newCapsules(lines, radii)
		grid := newCapsuleGrid(s)
		grid.most = 1 << 30
		w := &capsuleScratch{mark: make([]int32, len(s.capsules))}
		for range 20 {
			x, y := 200*random.Float64()-20, 80*random.Float64()-20
			b := box{x, y, x + 40*random.Float64(), y + 40*random.Float64()}
			w.round++
			found := grid.near(b, w, nil)
			slices.Sort(found)
			if len(slices.Compact(slices.Clone(found))) != len(found) {
				t.Fatalf("round %d: found twice: %v", round, found)
			}
			for j, c := range s.capsules {
				p, q := orb.Point{s.nodes[c.a].x, s.nodes[c.a].y}, orb.Point{s.nodes[c.b].x, s.nodes[c.b].y}
				near := math.Inf(1)
				corners := [5]orb.Point{{b.left, b.bottom}, {b.right, b.bottom}, {b.right, b.top}, {b.left, b.top}, {b.left, b.bottom}}
				for k := range 4 {
					near = min(near, segmentToSegment(p, q, corners[k], corners[k+1]))
				}
				if p[0] >= b.left && p[0] <= b.right && p[1] >= b.bottom && p[1] <= b.top {
					near = 0
				}
				if _, is := slices.BinarySearch(found, int32(j)); !is && math.Sqrt(near) < c.r {
					t.Fatalf("round %d: capsule %d, %v m from the box and %v wide, was not found", round, j, math.Sqrt(near), c.r)
				}
			}
		}
	}
}

// TestStops: corners that an outline must have on a circle, with those too near one another merged;
// by hand.
func TestStops(t *testing.T) {
	near := leastTurn / 2
	for _, c := range []struct {
		name  string
		given []stop
		round bool
		want  []stop
	}{
		{"none", nil, false, nil},
		{"apart", []stop{{1, 5}, {2, 4}}, false, []stop{{1, 5}, {2, 4}}},
		{"two as one, the second farther in", []stop{{1, 5}, {1 + near, 4}, {2, 5}}, false, []stop{{1, 4}, {2, 5}}},
		{"two as one, the first farther in", []stop{{1, 4}, {1 + near, 5}}, false, []stop{{1, 4}}},
		{"last and first of a circle", []stop{{near, 5}, {3, 5}, {2 * math.Pi, 4}}, true, []stop{{near, 4}, {3, 5}}},
		{"last and first of an arc", []stop{{near, 5}, {3, 5}, {2 * math.Pi, 4}}, false, []stop{{near, 5}, {3, 5}, {2 * math.Pi, 4}}},
		{"one of a circle", []stop{{1, 5}}, true, []stop{{1, 5}}},
	} {
		if got := apartStops(slices.Clone(c.given), c.round); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestCornersBetweenStopsKeepTheSector: wherever the ends of an arc are, the corners between them
// are placed so that the sector has the true area.
func TestCornersBetweenStopsKeepTheSector(t *testing.T) {
	c := circle{3, -2, 7}
	for _, turn := range []float64{0.01, 0.5, math.Pi / 2, 3, 6} {
		for _, ends := range [][2]float64{{7, 7}, {6.99, 7}, {7, 6.9}, {6.95, 6.98}} {
			for _, sides := range []float64{16, 128, 500} {
				from, to := stop{0.7, ends[0]}, stop{0.7 + turn, ends[1]}
				ring := orb.Ring{{c.x, c.y}, c.at(from)}
				ring = append(appendBetween(ring, c, from, to, sides), c.at(to))
				about(t, fmt.Sprintf("turn %v, ends %v, %v sides", turn, ends, sides), math.Abs(signedArea(ring)), turn/2*49, 1e-9)
				if n := len(ring) - 3; float64(n+1) < turn*sides/(2*math.Pi) {
					t.Errorf("%d corners for %v of %v sides", n, turn, sides)
				}
			}
		}
	}
}

// TestRotateAndNormalForm: by hand.
func TestRotateAndNormalForm(t *testing.T) {
	for k := range 5 {
		s := []orb.Point{{0, 0}, {1, 0}, {2, 0}, {3, 0}, {4, 0}}
		rotate(s, k)
		for i := range s {
			if s[i][0] != float64((i+k)%5) {
				t.Fatalf("by %d: %v", k, s)
			}
		}
	}
	want := orb.Ring{{0, 0}, {4, 0}, {4, 3}, {0, 3}, {0, 0}}
	for k := range 4 {
		open := slices.Clone(want[:4])
		rotate(open, k)
		for _, back := range []bool{false, true} {
			if back {
				slices.Reverse(open)
			}
			r := append(orb.Ring(slices.Clone(open)), open[0])
			hole := slices.Clone(r)
			if normalizeRing(r, true); !slices.Equal(r, want) {
				t.Errorf("%v", r)
			}
			if normalizeRing(hole, false); !slices.Equal(hole, orb.Ring{{0, 0}, {0, 3}, {4, 3}, {4, 0}, {0, 0}}) {
				t.Errorf("as a hole %v", hole)
			}
		}
	}
	for _, c := range []struct {
		a, b orb.Ring
		want int
	}{{orb.Ring{{0, 0}}, orb.Ring{{0, 0}}, 0}, {orb.Ring{{0, 0}}, orb.Ring{{0, 1}}, -1}, {orb.Ring{{1, 0}}, orb.Ring{{0, 1}}, 1}, {orb.Ring{{0, 0}}, orb.Ring{{0, 0}, {1, 1}}, -1}} {
		if got := compareRings(c.a, c.b); got != c.want {
			t.Errorf("%v and %v: %d", c.a, c.b, got)
		}
	}
}

// TestEvenOddEdges: an edge present twice cancels, present three times one is kept, in either
// direction; by hand.
func TestEvenOddEdges(t *testing.T) {
	edge := func(x0, y0, x1, y1 float64) border { return border{from: orb.Point{x0, y0}, to: orb.Point{x1, y1}} }
	got := evenOddEdges([]border{edge(0, 0, 1, 0), edge(1, 0, 0, 0), edge(5, 5, 4, 4), edge(0, 0, 0, 1), edge(0, 1, 0, 0), edge(0, 0, 0, 1)})
	if want := []border{edge(0, 0, 0, 1), edge(4, 4, 5, 5)}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestGrain: a power of two, about 1e-11 of the size, and no finer than the precision of
// coordinates far from the origin.
func TestGrain(t *testing.T) {
	for _, c := range []struct {
		ring orb.Ring
		want float64
	}{
		{squareAt(0, 0, 1)[0][0], 0x1p-36},       // 1e-11 is 0.69 of it
		{squareAt(0, 0, 1000)[0][0], 0x1p-26},    // 1e-8 is 0.67 of it
		{squareAt(-500, 0, 1000)[0][0], 0x1p-26}, // anywhere near the origin
		{squareAt(1<<30, 0, 1)[0][0], 0x1p-18},   // eight units of 2^-22, and the side a little more
		{squareAt(0, -(1 << 30), 1)[0][0], 0x1p-19},
	} {
		if got := grainOf(c.ring); got != c.want {
			t.Errorf("%v: 2^%v, want 2^%v", c.ring[0], math.Log2(got), math.Log2(c.want))
		}
	}
}

// TestDiscsTurnedAndShifted: area, closing and outline of discs depend only on their relative
// positions.
func TestDiscsTurnedAndShifted(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 32))
	for range 25 {
		var discs, turned []Disc
		for range 2 + random.IntN(20) {
			d := Disc{orb.Point{60 * random.Float64(), 60 * random.Float64()}, geo.Meters(1 + 10*random.Float64())}
			discs = append(discs, d)
			x, y := d.Center[0], d.Center[1]
			turned = append(turned, Disc{orb.Point{0.6*x - 0.8*y + 300, 0.8*x + 0.6*y - 500}, d.Radius})
		}
		random.Shuffle(len(turned), func(i, j int) { turned[i], turned[j] = turned[j], turned[i] })
		exact := float64(UnionDiscsArea(discs))
		about(t, "area", float64(UnionDiscsArea(turned)), exact, 1e-8)
		about(t, "drawn", float64(Area(UnionDiscs(turned))), exact, 1e-6)
		about(t, "closing", float64(CloseDiscs(turned, 6)), float64(CloseDiscs(discs, 6)), 1e-7)
		about(t, "closing skyline", float64(ClosingSkyline(turned, 6).Area()), float64(CloseDiscs(discs, 6)), 1e-4)
		sum := 0.0
		for _, d := range discs {
			sum += math.Pi * float64(d.Radius*d.Radius)
		}
		if closed := float64(CloseDiscs(discs, 6)); exact > sum+1e-9 || closed < exact {
			t.Errorf("union %v of %v, closed %v", exact, sum, closed)
		}
		last := 0.0
		for gap := geo.Meters(0); gap < 40; gap += 4 {
			closed := float64(CloseDiscs(discs, gap))
			if closed < last-1e-9 {
				t.Errorf("a gap of %v closes to %v, a narrower one to %v", gap, closed, last)
			}
			last = closed
		}
	}
}

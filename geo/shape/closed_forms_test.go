package shape

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// lensArea is the common area of two circles of one radius at a distance, by hand: two circular
// segments, each a sector less a triangle.
func lensArea(r, d float64) float64 {
	if d >= 2*r {
		return 0
	}
	return 2*r*r*math.Acos(d/(2*r)) - d/2*math.Sqrt(4*r*r-d*d)
}

func close9(t *testing.T, what string, got geo.SquareMeters, want float64) {
	t.Helper()
	if math.Abs(float64(got)-want) > 1e-9*math.Abs(want)+1e-9 {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// rowOfDiscs are n equal discs in a line, turned by an angle.
func rowOfDiscs(n int, r, step, angle float64) []Disc {
	s, c := math.Sincos(angle)
	discs := make([]Disc, n)
	for i := range discs {
		discs[i] = Disc{orb.Point{1000 + c*step*float64(i), -500 + s*step*float64(i)}, geo.Meters(r)}
	}
	return discs
}

// TestRowsOfDiscs: in a line of equal discs, any ground in three discs is in two neighbours. So the
// union is the sum less the lenses of neighbours, exactly, however close they are. Its drawing has
// that area, and the exposures are that formula's derivatives.
func TestRowsOfDiscs(t *testing.T) {
	for _, n := range []int{1, 2, 3, 9, 40} {
		for _, step := range []float64{0.1, 1, 3, 5.9, 6, 6.1, 20} {
			const r = 3
			discs := rowOfDiscs(n, r, step, 0.3)
			want := float64(n)*math.Pi*r*r - float64(n-1)*lensArea(r, step)
			what := fmt.Sprintf("%d discs %g m apart", n, step)
			close9(t, what, UnionDiscsArea(discs), want)
			drawn, area := DrawDiscs(discs, 0.01)
			close9(t, what+", told of the drawing", area, want)
			close9(t, what+", the drawing", Area(drawn), want)
			close9(t, what+", the union", Area(UnionDiscs(discs)), want)
			if parts := len(drawn); step > 2*r && parts != n || step < 2*r && parts != 1 {
				t.Errorf("%s: %d parts", what, parts)
			}
			if err := Valid(drawn); err != nil {
				t.Errorf("%s: %v", what, err)
			}
			var swell float64
			for i, e := range NewDiscs(discs).Exposures(0) {
				swell += float64(e.Swell) / (math.Pi * r * r) * 2 * math.Pi * r // by its own area, converted to metres of radius
				if i > 0 && i < n-1 && math.Hypot(e.Move[0], e.Move[1]) > 1e-6 {
					t.Errorf("%s: a disc amid the row gains %v by being moved", what, e.Move)
				}
			}
			if step == 6 {
				continue // for touching circles the derivative jumps
			}
			const h = 1e-5
			growth := func(r float64) float64 { return float64(n)*math.Pi*r*r - float64(n-1)*lensArea(r, step) }
			if num := (growth(r+h) - growth(r-h)) / (2 * h); math.Abs(swell*1-num) > 1e-4*num {
				t.Errorf("%s: exposures sum to %v a metre of radius, by the formula %v", what, swell, num)
			}
		}
	}
}

// closedPair is the ground that closing adds between two discs of one radius at a distance:
// computed, by hand, from the quadrilateral of both centres and the two places where a ball of half
// the gap touches both; 0 where such a ball passes between them.
func closedPair(r, d, gap float64) float64 {
	rho := gap / 2
	h := math.Sqrt((r+rho)*(r+rho) - d*d/4)
	if d >= 2*(r+rho) || h < rho {
		return 0
	}
	alpha := math.Acos(d / 2 / (r + rho)) // angle at a disc, between the line of centres and the line to the ball
	return 2*r*r*(math.Pi-alpha) + d*h - rho*rho*(math.Pi-2*alpha)
}

// TestClosedPairs: two discs closed by gaps of every size, until the balls above and below would
// meet; in a row each pair of neighbours is closed.
func TestClosedPairs(t *testing.T) {
	const r = 4
	tried := 0
	for _, d := range []float64{1, 5, 7.9, 8.5, 9, 12} {
		for _, gap := range []float64{0.1, 0.6, 1, 3, 8, 30} {
			want := closedPair(r, d, gap)
			if want == 0 {
				continue
			}
			tried++
			discs := rowOfDiscs(2, r, d, 1.1)
			what := fmt.Sprintf("%g m apart, closed by %g", d, gap)
			close9(t, what, CloseDiscs(discs, geo.Meters(gap)), want)
			close9(t, what+", its union known", NewDiscs(discs).Closing(geo.Meters(gap), UnionDiscsArea(discs)), want)
			if drawn := float64(Area(Closing(UnionDiscs(discs), geo.Meters(gap)))); math.Abs(drawn-want) > 2e-3*want {
				t.Errorf("%s by the library: %v, want %v", what, drawn, want)
			}
			if d >= 7.9 && gap <= 1 {
				row := rowOfDiscs(5, r, d, 0.4)
				close9(t, what+", five of them", CloseDiscs(row, geo.Meters(gap)), 5*math.Pi*r*r+4*(want-2*math.Pi*r*r))
			}
		}
	}
	if tried < 15 {
		t.Errorf("%d pairs", tried)
	}
}

// hullOf returns the convex hull of places, counter-clockwise (Andrew 1979).
func hullOf(places []orb.Point) []orb.Point {
	places = slices.Clone(places)
	slices.SortFunc(places, func(a, b orb.Point) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	half := func(places []orb.Point) (out []orb.Point) {
		for _, p := range places {
			for len(out) > 1 && turn(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out[:len(out)-1]
	}
	lower := half(places)
	slices.Reverse(places)
	return append(lower, half(places)...)
}

func turn(a, b, c orb.Point) float64 { return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0]) }

// TestClosedToTheHull: a gap far wider than the whole closes equal discs to their convex hull: the
// hull of the centres, a strip of the radius around it, and a disc (Steiner).
func TestClosedToTheHull(t *testing.T) {
	for seed := range uint64(6) {
		random := rand.New(rand.NewPCG(seed, 7))
		const r = 2.5
		discs := make([]Disc, 3+random.IntN(20))
		places := make([]orb.Point, len(discs))
		for i := range discs {
			places[i] = orb.Point{40 * random.Float64(), 40 * random.Float64()}
			discs[i] = Disc{places[i], r}
		}
		hull := hullOf(places)
		var area, around float64
		for i, p := range hull {
			q := hull[(i+1)%len(hull)]
			area += (p[0]*q[1] - p[1]*q[0]) / 2
			around += math.Hypot(q[0]-p[0], q[1]-p[1])
		}
		want := area + around*r + math.Pi*r*r
		if got := float64(CloseDiscs(discs, 1e6)); math.Abs(got-want) > 1e-4*want || got > want*(1+1e-9) {
			t.Errorf("seed %d: %v, the hull has %v", seed, got, want)
		}
		last := float64(UnionDiscsArea(discs))
		for _, gap := range []geo.Meters{0, 0.5, 1, 2, 5, 10, 30, 100, 1000} {
			got := float64(CloseDiscs(discs, gap))
			if got < last-1e-9*last || got > want*(1+1e-9) {
				t.Errorf("seed %d, gap %v: %v after %v, the hull has %v", seed, gap, got, last, want)
			}
			last = got
		}
	}
}

// TestDiscsMoved: turned, mirrored, far from the origin and in other units, discs have the same
// areas, in squares of the unit; in any order the same to the bit.
func TestDiscsMoved(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 3))
	for n := 1; n < 40; n += 6 {
		discs := make([]Disc, n)
		for i := range discs {
			discs[i] = Disc{orb.Point{30 * random.Float64(), 30 * random.Float64()}, geo.Meters(0.5 + 4*random.Float64())}
		}
		const gap = 3
		union, closed := float64(UnionDiscsArea(discs)), float64(CloseDiscs(discs, gap))
		if union > closed {
			t.Errorf("%d discs: the union %v is above its closing %v", n, union, closed)
		}
		for name, move := range map[string]func(orb.Point) orb.Point{
			"turned":   func(p orb.Point) orb.Point { return orb.Point{0.6*p[0] - 0.8*p[1], 0.8*p[0] + 0.6*p[1]} },
			"mirrored": func(p orb.Point) orb.Point { return orb.Point{-p[0], p[1]} },
			"far off":  func(p orb.Point) orb.Point { return orb.Point{p[0] + 100_000, p[1] - 50_000} },
		} {
			moved := slices.Clone(discs)
			for i := range moved {
				moved[i].Center = move(moved[i].Center)
			}
			if got := float64(UnionDiscsArea(moved)); math.Abs(got-union) > 1e-7*union {
				t.Errorf("%d discs %s: union %v, was %v", n, name, got, union)
			}
			if got := float64(CloseDiscs(moved, gap)); math.Abs(got-closed) > 1e-7*closed {
				t.Errorf("%d discs %s: closed %v, was %v", n, name, got, closed)
			}
		}
		tenfold := slices.Clone(discs)
		for i := range tenfold {
			tenfold[i] = Disc{orb.Point{10 * discs[i].Center[0], 10 * discs[i].Center[1]}, 10 * discs[i].Radius}
		}
		if got := float64(CloseDiscs(tenfold, 10*gap)); math.Abs(got-100*closed) > 1e-7*100*closed {
			t.Errorf("%d discs in tenths: closed %v, was %v", n, got, closed)
		}
		again := slices.Clone(discs)
		random.Shuffle(n, func(i, j int) { again[i], again[j] = again[j], again[i] })
		a, areaA := DrawDiscs(discs, 0.05)
		b, areaB := DrawDiscs(again, 0.05)
		if areaA != areaB || fmt.Sprint(a) != fmt.Sprint(b) {
			t.Errorf("%d discs in another order are drawn otherwise", n)
		}
	}
}

// sagitta is how far a chord's middle lies from its arc.
func sagitta(r, chord float64) float64 { return r - math.Sqrt(r*r-chord*chord/4) }

// TestChordsOfDrawings: corners are just outside the circle and chords' middles just inside, by no
// more than the sagitta; and no drawing has many more corners than chords of that sagitta need.
func TestChordsOfDrawings(t *testing.T) {
	for _, r := range []float64{0.3, 5, 80, 1500} {
		for _, chord := range []float64{0.001, 0.01, 0.1} {
			if chord > r/3 {
				continue
			}
			center := orb.Point{200, 100}
			drawn, _ := DrawDiscs([]Disc{{center, geo.Meters(r)}}, geo.Meters(chord))
			ring := drawn[0][0]
			for i, p := range ring[1:] {
				q := ring[i]
				out := math.Hypot(p[0]-center[0], p[1]-center[1]) - r
				in := r - math.Hypot((p[0]+q[0])/2-center[0], (p[1]+q[1])/2-center[1])
				if out > chord || out < -1e-9*r || in > chord || in < -1e-9*r {
					t.Fatalf("r %g, chord %g: a corner %g outside, a chord %g inside", r, chord, out, in)
				}
				if s := sagitta(r, math.Hypot(p[0]-q[0], p[1]-q[1])); s > chord*1.01 {
					t.Fatalf("r %g, chord %g: a sagitta of %g", r, chord, s)
				}
			}
			least := math.Pi / math.Acos(1-chord/r)
			if n := float64(len(ring) - 1); n < least-1 || n > 1.5*least+8 {
				t.Errorf("r %g, chord %g: %g corners, at least %g are needed", r, chord, n, least)
			}
		}
	}
}

// pie is the area of a drawn circle with n sides a quarter and its corners on the circle, by hand.
func pie(r float64, n int) float64 {
	return 2 * float64(n) * r * r * math.Sin(math.Pi/2/float64(n))
}

// TestBufferOfLinesByHand: a straight line gives a rectangle and two half circles. A line with one
// corner, of a turn between none and a half turn, gives two rectangles, two half circles, and a
// sector outside the corner; inside it the rectangles overlap by a kite of r squared times the
// tangent of half the turn.
func TestBufferOfLinesByHand(t *testing.T) {
	for _, r := range []float64{0.5, 2, 7} {
		line := orb.LineString{{10, 20}, {40, 60}} // 50 long
		for _, sides := range []int{4, 8, 32} {
			// half circles start at a side: each has all its corners
			close9(t, "straight", Area(Buffer(orb.MultiLineString{line}, geo.Meters(r), sides)), 2*r*50+pie(r, sides))
			many := BufferLines([]orb.LineString{line, {{500, 0}, {500, 10}}}, []geo.Meters{geo.Meters(r), geo.Meters(2 * r)}, sides, 2)
			close9(t, "two apart", Area(many), 2*r*50+pie(r, sides)+2*2*r*10+pie(2*r, sides))
			close9(t, "a place", Area(Buffer(orb.MultiLineString{{{1, 2}}}, geo.Meters(r), sides)), pie(r, sides))
		}
		for _, angle := range []float64{0.2, 0.7, math.Pi / 2, 2} {
			s, c := math.Sincos(angle)
			bent := orb.LineString{{0, 0}, {100, 0}, {100 + 60*c, 60 * s}}
			whole := 2*r*160 + math.Pi*r*r + r*r*angle/2 - r*r*math.Tan(angle/2)
			drawn := Area(DrawLines([]orb.LineString{bent}, []geo.Meters{geo.Meters(r)}, 0.001, 1))
			if math.Abs(float64(drawn)-whole) > 2e-6*whole {
				t.Errorf("bent by %g, drawn: %v, want %v", angle, drawn, whole)
			}
			fine := float64(Area(Buffer(orb.MultiLineString{bent}, geo.Meters(r), 200)))
			if fine > whole || fine < whole-math.Pi*r*r*2e-5-1e-9 {
				t.Errorf("bent by %g, 200 sides a quarter: %v, want just under %v", angle, fine, whole)
			}
		}
	}
}

// TestBufferOfPolygonsByHand: a square grows by a strip along each side and a circle, and shrinks
// by a strip alone. An L has five convex corners, a quarter of a circle each, and a reentrant one,
// where the strips overlap by a square. A hole does the opposite.
func TestBufferOfPolygonsByHand(t *testing.T) {
	square := orb.MultiPolygon{{{{0, 0}, {30, 0}, {30, 30}, {0, 30}, {0, 0}}}}
	for _, r := range []float64{1, 4, 14} {
		close9(t, "square grown", Area(BufferPolygon(square, geo.Meters(r), 16)), 900+120*r+pie(r, 16))
		close9(t, "square shrunk", Area(BufferPolygon(square, geo.Meters(-r), 16)), (30-2*r)*(30-2*r))
	}
	if got := BufferPolygon(square, -15.1, 16); Area(got) != 0 {
		t.Errorf("shrunk to nothing: %v", got)
	}
	el := orb.MultiPolygon{{{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 30}, {0, 30}, {0, 0}}}}
	for _, r := range []float64{1, 4} {
		close9(t, "L grown", Area(BufferPolygon(el, geo.Meters(r), 16)), 500+120*r+1.25*pie(r, 16)-r*r)
	}
	hole := orb.MultiPolygon{{square[0][0], {{10, 10}, {10, 20}, {20, 20}, {20, 10}, {10, 10}}}}
	close9(t, "with a hole, grown", Area(BufferPolygon(hole, 2, 16)), 900+120*2+pie(2, 16)-36)
	close9(t, "with a hole, shrunk", Area(BufferPolygon(hole, -2, 16)), 26*26-(100+40*2+pie(2, 16)))
	close9(t, "a hole grown over", Area(BufferPolygon(hole, 5, 16)), 900+120*5+pie(5, 16))
}

// TestArcsByHand: a half circle through its top, a quarter, and three places that make no arc.
func TestArcsByHand(t *testing.T) {
	half := Arc([]orb.Point{{-2, 0}}, orb.Point{-2, 0}, orb.Point{0, 2}, orb.Point{2, 0})
	if n := len(half); n < 180 || n > 362 || half[n-1] != (orb.Point{2, 0}) {
		t.Fatalf("%d places, the last %v", n, half[n-1])
	}
	for i, p := range half {
		if d := math.Hypot(p[0], p[1]); math.Abs(d-2) > 1e-12 || p[1] < -1e-12 {
			t.Errorf("place %d, %v, is %v from the centre", i, p, d)
		}
		if i > 0 && math.Hypot(p[0]-half[i-1][0], p[1]-half[i-1][1]) > 2*2*math.Sin(math.Pi/360)+1e-12 {
			t.Errorf("places %d and %d are more than a degree apart", i-1, i)
		}
	}
	below := Arc([]orb.Point{{-2, 0}}, orb.Point{-2, 0}, orb.Point{0, -2}, orb.Point{2, 0})
	if p := below[len(below)/2]; p[1] > -1.9 {
		t.Errorf("through the bottom it goes by %v", p)
	}
	circle := Arc([]orb.Point{{1, 0}}, orb.Point{1, 0}, orb.Point{-1, 0}, orb.Point{1, 0})
	if n := len(circle); n < 360 || circle[n-1] != circle[0] {
		t.Errorf("a circle of %d places that ends at %v", n, circle[n-1])
	}
	for name, three := range map[string][3]orb.Point{
		"in a line": {{0, 0}, {1, 1}, {2, 2}}, "twice one": {{0, 0}, {0, 0}, {1, 0}}, "no number": {{0, 0}, {math.NaN(), 1}, {2, 0}},
	} {
		path := Arc([]orb.Point{three[0]}, three[0], three[1], three[2])
		if last := path[len(path)-1]; last != three[2] || len(path) > 3 {
			t.Errorf("%s: %v", name, path)
		}
	}
}

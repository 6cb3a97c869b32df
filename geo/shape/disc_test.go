package shape

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// 0.1 acre has radius 11.3497 m: derived by hand from 43 560 square feet of
// 0.3048 m an acre.
func TestDiscOfArea(t *testing.T) {
	d := DiscOfArea(orb.Point{1, 2}, geo.Acres(0.1).SquareMeters())
	if math.Abs(float64(d.Radius)-11.3497) > 5e-5 {
		t.Errorf("radius %v", d.Radius)
	}
	p := orb.MultiPolygon{d.Polygon()}
	within(t, "polygon", Area(p), 404.68564224, 1e-12)
	if n := len(p[0][0]); n != 129 {
		t.Errorf("%d vertices", n)
	}
	mustBeNormal(t, p)
}

// Derived by hand: two discs of radius r at distance d share a lens.
func TestUnionOfTwoDiscs(t *testing.T) {
	for _, d := range []float64{0.001, 1, 11, 21.9} {
		const r = 11.0
		lens := 2*r*r*math.Acos(d/2/r) - d/2*math.Sqrt(4*r*r-d*d)
		want := 2*math.Pi*r*r - lens
		discs := []Disc{{orb.Point{100, 100}, r}, {orb.Point{100 + 0.6*d, 100 + 0.8*d}, r}}
		within(t, "union", Area(UnionDiscs(discs)), want, 1e-11)
		within(t, "exact union", UnionDiscsArea(discs), want, 1e-12)
	}
}

// Derived by hand: closing two discs of radius r at distance d by 2 rho adds, between them, the
// rhombus of their centres and the two corners of the enlarged union, less the discs' sectors and
// the reentrant sectors, which overlap by a lens when the corners are nearer than 2 rho.
func TestClosingOfTwoDiscs(t *testing.T) {
	for _, c := range []struct {
		name      string
		r, rho, d float64
	}{
		{"filled to the waist", 11.35, 15, 30},
		{"corners just touch", 11.35, 15, 2 * math.Sqrt(26.35*26.35-225)},
		{"pinched through", 11.35, 15, 48},
		{"small ones, pinched", 1, 15, 28},
		{"hardly in reach", 1, 15, 31.99},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := math.Sqrt((c.r+c.rho)*(c.r+c.rho) - c.d*c.d/4)
			alpha := math.Acos(c.d / 2 / (c.r + c.rho))
			want := c.d*h + 2*c.r*c.r*(math.Pi-alpha) - c.rho*c.rho*(math.Pi-2*alpha)
			if h < c.rho {
				want += 2*c.rho*c.rho*math.Acos(h/c.rho) - 2*h*math.Sqrt(c.rho*c.rho-h*h)
			}
			discs := []Disc{{orb.Point{5, 5}, geo.Meters(c.r)}, {orb.Point{5 + 0.8*c.d, 5 - 0.6*c.d}, geo.Meters(c.r)}}
			within(t, "closing", CloseDiscs(discs, geo.Meters(2*c.rho)), want, 1e-11)
		})
	}
}

// Derived by hand: three equal discs at the corners of a triangle of side d,
// near enough that the middle is filled; each waist is as between two.
func TestClosingOfTriangle(t *testing.T) {
	const r, rho, d = 11.35, 15.0, 30.0
	h := math.Sqrt((r+rho)*(r+rho) - d*d/4)
	alpha := math.Acos(d / 2 / (r + rho))
	// Three times half a waist outside the triangle's side; the triangle; and the discs' sectors
	// outside both.
	halfWaist := d*h/2 - r*r*alpha - rho*rho*(math.Pi-2*alpha)/2
	want := d*d*math.Sqrt(3)/4 + 3*halfWaist + 3*r*r*(math.Pi-math.Pi/6)
	discs := []Disc{{orb.Point{0, 0}, r}, {orb.Point{d, 0}, r}, {orb.Point{d / 2, d * math.Sqrt(3) / 2}, r}}
	within(t, "closing", CloseDiscs(discs, 2*rho), want, 1e-11)
}

// drawDiscs draws discs on a grid, where circles touch and coincide, or anywhere.
func drawDiscs(t *rapid.T) []Disc {
	discs := make([]Disc, rapid.IntRange(1, 40).Draw(t, "discs"))
	grid := rapid.Bool().Draw(t, "grid")
	for i := range discs {
		d := &discs[i]
		for k := range d.Center {
			if grid {
				d.Center[k] = 5 * float64(rapid.IntRange(0, 12).Draw(t, "c"))
			} else {
				d.Center[k] = rapid.Float64Range(0, 80).Draw(t, "c")
			}
		}
		d.Radius = geo.Meters(rapid.SampledFrom([]float64{1, 5, 10, 5 * math.Sqrt2, 11.35}).Draw(t, "r"))
	}
	return discs
}

// The union is valid, has the same bytes in any order and the exact area, is at most the sum,
// contains every centre, and the closing is between union and hull.
func TestUnionOfDrawnDiscs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		discs := drawDiscs(t)
		u := UnionDiscs(discs)
		if err := Valid(u); err != nil {
			t.Fatal(err)
		}
		if !orb.Equal(u, UnionDiscs(rapid.Permutation(discs).Draw(t, "order"))) {
			t.Fatal("hangs on the order")
		}
		exact, sum := UnionDiscsArea(discs), geo.SquareMeters(0)
		for _, d := range discs {
			sum += d.Area()
			if !Contains(u, d.Center) {
				t.Fatalf("centre %v is outside", d.Center)
			}
		}
		if off := math.Abs(float64(Area(u)/exact) - 1); off > 1e-9 || exact > sum*(1+1e-12) {
			t.Fatalf("drawn %v, exact %v, sum %v", Area(u), exact, sum)
		}
		if want := Area(unionDiscPolygons(discs)); math.Abs(float64(exact/want)-1) > 1e-3 {
			t.Fatalf("exact %v, library %v", exact, want)
		}
	})
}

func TestClosingOfDrawnDiscs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		discs := drawDiscs(t)
		last := Area(UnionDiscs(discs)) * (1 - 1e-9)
		for _, gap := range []geo.Meters{0, 1, 5, 10, 30} {
			closed := CloseDiscs(discs, gap)
			if closed < last*(1-1e-9) {
				t.Fatalf("closing by %v: %v, by less %v", gap, closed, last)
			}
			last = closed
			if gap < 5 {
				continue
			}
			if want, grown := closePolygons(discs, gap), grownArea(discs, gap/2); math.Abs(float64(closed-want)) > 1e-3*float64(grown) {
				t.Fatalf("closing by %v: %v, library %v", gap, closed, want)
			}
		}
	})
}

// walk returns n discs along a bending line.
func walk(rng *rand.Rand, n int, low, high float64) []Disc {
	discs := make([]Disc, n)
	x, y, heading := 0.0, 0.0, 2*math.Pi*rng.Float64()
	for i := range discs {
		heading += 0.6 * rng.NormFloat64()
		step := 5 + 22*rng.Float64()
		x, y = x+step*math.Cos(heading), y+step*math.Sin(heading)
		discs[i] = Disc{orb.Point{x, y}, geo.Meters(low + (high-low)*rng.Float64())}
	}
	return discs
}

// How often rounding sends a stand to the library: never, for its union or for its closing.
func TestDiscsCloseByThemselves(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	for trial := range 2000 {
		low := []float64{11.35, 1, 0.5}[trial%3]
		discs := walk(rng, 1+rng.IntN(40), low, []float64{11.35, 3, 25}[trial%3])
		for _, grow := range []float64{0, 15} {
			g := newGroup(discs, grow, 0)
			if _, ok := g.draw(g.exposed()); !ok {
				t.Errorf("trial %d grown by %v does not close", trial, grow)
			}
		}
	}
}

func FuzzDiscs(f *testing.F) {
	f.Add(0.0, 0.0, 10.0, 20.0, 0.0, 10.0, 10.0, 0.0, 10.0, 30.0)
	f.Add(0.0, 0.0, 10.0, 0.0, 1e-12, 10.0, 5.0, 0.0, 5.0, 3.0)
	f.Add(0.0, 0.0, 5.0, 10.0, 0.0, 5.0, 5.0, 8.66, 5.0, 1.0)     // three that touch
	f.Add(0.0, 0.0, 10.0, 0.0, 1e-3, 10.0, 0.0, 10.0, 10.0, 10.0) // two nearly equal, one on the same meridian
	f.Add(0.0, 0.0, 10.0, 1.0, 0.0, 9.0, -1.0, 0.0, 9.0, 0.0)     // touching from inside
	f.Add(1e5, -1e5, 0.02, 1e5, -1e5, 1e3, 0.0, 0.0, 1e4, 2000.0) // small in large
	f.Fuzz(func(t *testing.T, x0, y0, r0, x1, y1, r1, x2, y2, r2, gap float64) {
		discs := []Disc{{orb.Point{x0, y0}, geo.Meters(r0)}, {orb.Point{x1, y1}, geo.Meters(r1)}, {orb.Point{x2, y2}, geo.Meters(r2)}}
		largest := 0.0
		for _, d := range discs {
			if !finite(d.Center) || math.Abs(d.Center[0]) > 1e6 || math.Abs(d.Center[1]) > 1e6 || d.Radius > 1e4 || (d.Radius > 0 && d.Radius < 1e-2) {
				t.Skip("outside any frame")
			}
			largest = max(largest, float64(d.Area()))
		}
		u, exact := UnionDiscs(discs), float64(UnionDiscsArea(discs))
		if err := Valid(u); err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(Area(u))-exact) > 1e-8*exact || exact < largest*(1-1e-9) {
			t.Fatalf("drawn %v, exact %v, largest %v", Area(u), exact, largest)
		}
		if math.Abs(gap) < 1e4 && !(float64(CloseDiscs(discs, geo.Meters(gap))) >= exact) {
			t.Fatal("closing under the union")
		}
	})
}

// Two discs a millimetre apart that nearly touch a third give it two corners in one direction: the
// areas must be those of the true circles. Derived by hand.
func TestUnionOfTwoNearlyTouchingAThird(t *testing.T) {
	const r = 11.35
	for _, gap := range []float64{1e-8, 1e-5, 1e-3, 0.02} {
		for _, apart := range []float64{1e-9, 1e-6, 1e-3, 1e-2} {
			discs := []Disc{{orb.Point{0, 0}, r}, {orb.Point{0, 2*r + gap}, r}, {orb.Point{0, 2*r + gap + apart}, r}}
			two := UnionDiscsArea(discs[1:])
			u := UnionDiscs(discs)
			if err := Valid(u); err != nil {
				t.Errorf("gap %g, %g apart: %v", gap, apart, err)
			}
			within(t, "union", Area(u), float64(two)+math.Pi*r*r, 1e-9)
		}
	}
}

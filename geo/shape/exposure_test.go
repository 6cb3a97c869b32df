package shape

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// TestExposuresOfTwoDiscs: derived by hand. Of two discs of radius r at distance d each is exposed
// except for the angle 2 acos(d/2r); moved apart, the union grows by the common chord.
func TestExposuresOfTwoDiscs(t *testing.T) {
	const r = 11.0
	for _, d := range []float64{0.5, 5, 11, 21.9} {
		e := NewDiscs([]Disc{{orb.Point{500, 70}, r}, {orb.Point{500 + d, 70}, r}}).Exposures(0)
		shows := 2*math.Pi*r - 2*r*math.Acos(d/2/r)
		chord := 2 * math.Sqrt(r*r-d*d/4)
		for i, sign := range []float64{-1, 1} {
			within(t, "swell", e[i].Swell, r/2*shows, 1e-12)
			within(t, "move", geo.SquareMeters(sign*e[i].Move[0]), chord, 1e-12)
			if math.Abs(e[i].Move[1]) > 1e-9 {
				t.Errorf("moves the area sideways by %g", e[i].Move[1])
			}
		}
	}
}

// TestExposuresOfWhatDoesNotShow: a lone disc grows by its area, and moving it has no effect; the
// exposure is 0 for a disc inside another, for the second of two equal ones, and for an empty one.
func TestExposuresOfWhatDoesNotShow(t *testing.T) {
	discs := []Disc{{orb.Point{0, 0}, 1}, {orb.Point{0, 0}, 10}, {orb.Point{1, 0}, 3}, {orb.Point{0, 0}, 10}, {orb.Point{50, 0}, 0}, {orb.Point{math.NaN(), 0}, 1}}
	for _, gap := range []geo.Meters{0, 30} {
		for i, e := range NewDiscs(discs).Exposures(gap) {
			want := 0.0
			if i == 1 {
				want = 100 * math.Pi
			}
			if math.Abs(float64(e.Swell)-want) > 1e-9 || math.Hypot(e.Move[0], e.Move[1]) > 1e-12 {
				t.Errorf("gap %v, disc %d: %+v, want %v", gap, i, e, want)
			}
		}
	}
}

// TestExposuresAreTheDerivatives: compared with differences of the areas, with the error of the
// step removed (Richardson).
func TestExposuresAreTheDerivatives(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for _, gap := range []geo.Meters{0, 1.5, 12, 30} {
		worst := 0.0
		for k := range 90 {
			discs := someDiscs(r, 2+r.IntN(14), 15+float64(k%3)*9)
			for i, e := range NewDiscs(discs).Exposures(gap) {
				for way, got := range []float64{2 * float64(e.Swell/geo.SquareMeters(discs[i].Radius)), e.Move[0], e.Move[1]} {
					off := math.Abs(got-slope(discs, i, way, gap)) / (2 * math.Pi * float64(discs[i].Radius+gap/2))
					worst = max(worst, off)
				}
			}
		}
		t.Logf("gap %v: at most %.1e of the circle", gap, worst)
		if worst > 5e-8 {
			t.Errorf("gap %v: %g of the circle off", gap, worst)
		}
	}
}

// someDiscs returns n discs of 2 to 14 m, one in each square of the given side.
func someDiscs(r *rand.Rand, n int, side float64) []Disc {
	side *= math.Sqrt(float64(n))
	discs := make([]Disc, n)
	for i := range discs {
		discs[i] = Disc{orb.Point{1e4 + side*r.Float64(), side * r.Float64()}, geo.Meters(2 + 12*r.Float64())}
	}
	return discs
}

// slope is the derivative of the area by one quantity of one disc, from differences.
func slope(discs []Disc, i, way int, gap geo.Meters) float64 {
	at := func(step float64) float64 {
		moved := append([]Disc(nil), discs...)
		if way == 0 {
			moved[i].Radius += geo.Meters(step)
		} else {
			moved[i].Center[way-1] += step
		}
		return float64(CloseDiscs(moved, gap))
	}
	const h = 2e-5
	wide, narrow := (at(h)-at(-h))/(2*h), (at(h/2)-at(-h/2))/h
	return (4*narrow - wide) / 3
}

// TestExposuresOfAwkwardDiscs: moving all together has no effect, and scaling all together gains
// twice the area (Euler's theorem of homogeneous functions).
func TestExposuresOfAwkwardDiscs(t *testing.T) {
	for name, discs := range awkwardDiscs() {
		var x, y, twice, around float64
		for i, e := range NewDiscs(discs).Exposures(0) {
			x, y = x+e.Move[0], y+e.Move[1]
			if !discs[i].empty() {
				twice += 2*float64(e.Swell) + e.Move[0]*discs[i].Center[0] + e.Move[1]*discs[i].Center[1]
				around += float64(discs[i].Radius)
			}
		}
		if area := float64(UnionDiscsArea(discs)); math.Hypot(x, y) > 1e-6*around || math.Abs(twice-2*area) > 1e-6*area {
			t.Errorf("%s: move together gains %g, %g m2 a m; drawn larger %v, want %v", name, x, y, twice, 2*area)
		}
		for _, e := range NewDiscs(discs).Exposures(30) {
			if v := float64(e.Swell) + e.Move[0] + e.Move[1]; v-v != 0 {
				t.Errorf("%s: %+v", name, e)
			}
		}
	}
}

// TestExposuresOfOutlines: discs drawn as polygons, compared with true discs; and by hand, a square
// of 10 m with one of 10 by 6 m half inside it: of the first, three sides and 4 m of the fourth are
// exposed, of the second one side and half of two.
func TestExposuresOfOutlines(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 9))
	for range 30 {
		discs := someDiscs(r, 2+r.IntN(14), 24)
		drawn := make([]orb.MultiPolygon, len(discs))
		for i, d := range discs {
			drawn[i] = orb.MultiPolygon{d.Polygon()}
		}
		of := ExposuresOf(drawn)
		for i, e := range NewDiscs(discs).Exposures(0) {
			around := 2 * math.Pi * float64(discs[i].Radius)
			if off := math.Hypot(e.Move[0]-of[i].Move[0], e.Move[1]-of[i].Move[1]); off > 0.06*around {
				t.Errorf("disc %d: moved %v, drawn %v", i, e.Move, of[i].Move)
			}
			if math.Abs(float64(e.Swell-of[i].Swell)) > 0.06*float64(discs[i].Area()) {
				t.Errorf("disc %d: swells by %v, drawn %v", i, e.Swell, of[i].Swell)
			}
		}
	}
	block := func(x, y, w, h float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}, {x, y}}}}
	}
	e := ExposuresOf([]orb.MultiPolygon{block(0, 0, 10, 10), block(5, 2, 10, 6)})
	within(t, "first swells", e[0].Swell, (3*10*5+4*5)/2.0, 1e-9)
	within(t, "second swells", e[1].Swell, (6*5+2*5*3)/2.0, 1e-9)
	within(t, "first moves", geo.SquareMeters(e[0].Move[0]), 4-10, 1e-9)
	within(t, "second moves", geo.SquareMeters(e[1].Move[0]), 6, 1e-9)
}

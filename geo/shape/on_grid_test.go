package shape

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// degenerate draws discs from the families that are hard on rounding: in a line and nearly tangent,
// on a lattice, and almost coinciding, 1e-9 to 1e-2 m apart.
func degenerate(rng *rand.Rand) []Disc {
	small := math.Pow(10, -9+7*rng.Float64())
	r := []float64{11.35, 0.2523, 1, 5 * math.Sqrt2}[rng.IntN(4)]
	var discs []Disc
	add := func(x, y, r float64) { discs = append(discs, Disc{orb.Point{x, y}, geo.Meters(r)}) }
	jitter := func() float64 { return small * (2*rng.Float64() - 1) }
	switch rng.IntN(4) {
	case 0:
		for k := range 2 + rng.IntN(4) {
			add(jitter(), float64(k)*2*r+jitter(), r)
		}
	case 1:
		for k := range 4 + rng.IntN(30) {
			add(float64(k%5)*r+jitter(), float64(k/5)*r, r)
		}
	case 2:
		for range 2 + rng.IntN(3) {
			add(jitter(), jitter(), r+jitter())
		}
		add(0, 2*r+jitter(), r)
		add(2*r+jitter(), jitter(), r)
	case 3: // three through one place, or nearly
		for k := range 3 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 3)
			add((r+jitter())*cos, (r+jitter())*sin, r)
		}
	}
	return discs
}

// sliced is the area of a union by another method, as the truth of a test: between neighbouring
// places where circles begin, end or cross, vertical slices are covered from arc to arc, each
// integrated in closed form.
func sliced(discs []Disc) float64 {
	var cuts []float64
	for i, a := range discs {
		x, r := a.Center[0], float64(a.Radius)
		cuts = append(cuts, x-r, x+r)
		for _, b := range discs[:i] {
			dx, dy := b.Center[0]-a.Center[0], b.Center[1]-a.Center[1]
			d := math.Hypot(dx, dy)
			if d == 0 || d > r+float64(b.Radius) {
				continue
			}
			along := (d*d + r*r - float64(b.Radius*b.Radius)) / (2 * d)
			if h2 := r*r - along*along; h2 >= 0 {
				h := math.Sqrt(h2)
				cuts = append(cuts, x+(along*dx-h*dy)/d, x+(along*dx+h*dy)/d)
			}
		}
	}
	return sliceSum(discs, cuts)
}

func TestDegenerateDiscs(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 11))
	n := 4000
	if testing.Short() {
		n = 400
	}
	for trial := range n {
		discs := degenerate(rng)
		want := sliced(discs)
		for name, mp := range map[string]orb.MultiPolygon{"fine": UnionDiscs(discs), "2 cm": first(DrawDiscs(discs, 0.02))} {
			if err := Valid(mp); err != nil {
				t.Fatalf("trial %d, %s: %v of %v", trial, name, err, discs)
			}
			if got := float64(Area(mp)); !(math.Abs(got/want-1) < 2e-6) {
				t.Fatalf("trial %d, %s: area %v, want %v of %v", trial, name, got, want, discs)
			}
		}
		if got := float64(UnionDiscsArea(discs)); !(math.Abs(got/want-1) < 1e-7) {
			t.Fatalf("trial %d: exact area %v, want %v of %v", trial, got, want, discs)
		}
	}
}

func first(mp orb.MultiPolygon, _ geo.SquareMeters) orb.MultiPolygon { return mp }

// On the grid of 1e-7 degrees every area is valid, and has the wanted area within a dozen square
// steps, 15 cm2, drawn with many sides or with few.
func TestOnGridOfArea(t *testing.T) {
	rng := rand.New(rand.NewPCG(14, 13))
	const perMeter = 90 // 1.1 cm
	worst := 0.0
	for trial := range 600 {
		discs := walk(rng, 1+rng.IntN(40), 0.25, 12)
		if trial%3 == 0 {
			discs = degenerate(rng)
		}
		mp, area := DrawDiscs(discs, []geo.Meters{0.02, 1}[trial%2])
		got := OnGridOfArea(mp, perMeter, float64(area), float64(Area(mp)))
		if err := Valid(got); err != nil {
			t.Fatalf("trial %d: %v", trial, err)
		}
		for _, p := range got {
			for _, r := range p {
				for k, at := range r {
					if at[0]*perMeter != math.Round(at[0]*perMeter) && math.Abs(at[0]*perMeter-math.Round(at[0]*perMeter)) > 1e-9 {
						t.Fatalf("trial %d: vertex %d at %v", trial, k, at)
					}
				}
			}
		}
		worst = max(worst, math.Abs(float64(Area(got)-area))*perMeter*perMeter)
	}
	if worst > 12 {
		t.Errorf("%v square steps off", worst)
	}
	t.Logf("at most %.2f square steps off", worst)
}

package lineage

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
)

// TestPerimeterAbout: the ground that a footprint shares with the general perimeter of another is the
// same whether all of the other is closed or only what lies about the footprint: also where its gaps,
// holes and parts cross the cut.
func TestPerimeterAbout(t *testing.T) {
	const join = geo.Meters(28)
	random := rand.New(rand.NewPCG(3, 3))
	met, cut := 0, 0
	for range 20 {
		var discs []shape.Disc
		for range 30 + random.IntN(60) {
			discs = append(discs, shape.Disc{Center: orb.Point{200 * random.Float64(), 120 * random.Float64()}, Radius: geo.Meters(3 + 9*random.Float64())})
		}
		large := plotOf(shape.UnionDiscs(discs))
		small := plotOf(shape.UnionDiscs([]shape.Disc{{Center: orb.Point{200 * random.Float64(), 120 * random.Float64()}, Radius: geo.Meters(2 + 10*random.Float64())}}))
		whole, _ := small.shared(large.perimeter(join))
		part := large.about(small, join)
		got, _ := small.shared(part.perimeter(join))
		if math.Abs(float64(whole-got)) > 1e-3*float64(small.size) {
			t.Errorf("%g m2 of %g are shared with the part, %g with all", got, small.size, whole)
		}
		before, _ := small.shared(large)
		if whole > before+0.01*small.size {
			met++
		}
		if part.size < large.size {
			cut++
		}
	}
	if met < 6 || cut < 16 {
		t.Errorf("%d of 20 gaps were closed, %d of 20 stands were cut", met, cut)
	}
}

func plotOf(areas orb.MultiPolygon) plot { return plot{areas, geo.PolygonArea(areas)} }

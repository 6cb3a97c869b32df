package shape

import (
	"math"

	"github.com/paulmach/orb"
)

// perturbations are the distances by which places are moved, in turn, where rounding keeps an
// outline from closing: as where a circle only grazes a side, or a third circle passes through the
// place where two touch. Our choice, metres: from four steps of the capsules' raster, each four
// times the one before, and all below what a survey resolves. They change an area by less than the
// length of its outline times the move.
var perturbations = [...]float64{4e-6, 1.6e-5, 6.4e-5, 2.56e-4}

// perturbed returns p moved by up to far in x and in y. The same place always moves the same way,
// so that connected shapes stay connected and the order does not matter.
func perturbed(p orb.Point, far float64) orb.Point {
	// -0 and 0 are the same place
	h := scramble(scramble(math.Float64bits(p[0]+0)) ^ math.Float64bits(p[1]+0))
	const half = 1 << 31
	return orb.Point{p[0] + far*(float64(h>>32)/half-1), p[1] + far*(float64(uint32(h))/half-1)}
}

// scramble is the finalizer of SplitMix64 (Steele, Lea and Flood 2014, Fast splittable
// pseudorandom number generators).
func scramble(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// untilClosed returns what do makes of shapes as they are, or else, for each perturbation in turn,
// of shapes moved by it; false where none of them closes.
func untilClosed[T any](do func(far float64) (T, bool)) (out T, ok bool) {
	if out, ok = do(0); ok {
		return out, true
	}
	for _, far := range perturbations {
		if out, ok = do(far); ok {
			return out, true
		}
	}
	return out, false
}

// perturbedDiscs returns the discs with each centre moved by up to far.
func perturbedDiscs(discs []Disc, far float64) []Disc {
	if far == 0 {
		return discs
	}
	out := make([]Disc, len(discs))
	for i, d := range discs {
		out[i] = Disc{perturbed(d.Center, far), d.Radius}
	}
	return out
}

// perturbedArea returns an area with each vertex moved by up to far.
func perturbedArea(mp orb.MultiPolygon, far float64) orb.MultiPolygon {
	out := mp.Clone()
	for _, polygon := range out {
		for _, ring := range polygon {
			for k, p := range ring {
				ring[k] = perturbed(p, far)
			}
		}
	}
	return out
}

// finestOf returns the number of sides of a quarter circle when the polygon library must handle n
// circles: 512, or fewer where that would exceed a million corners. Our choice.
func finestOf(n int) int {
	return min(finelyDrawn, max(discSegments/4, 1<<18/max(1, n)))
}

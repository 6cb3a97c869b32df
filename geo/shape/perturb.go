package shape

import (
	"math"

	"github.com/paulmach/orb"
)

// perturbations are how far places are moved, in turn, where rounding keeps an outline from
// closing: as where a circle only grazes a side, or a third passes where two touch. Our choice, metres: from four steps of the raster that capsules are put on,
// each four times the one before; a survey tells none of it. An area is then off by
// less than the length of its outline times the move.
var perturbations = [...]float64{4e-6, 1.6e-5, 6.4e-5, 2.56e-4}

// perturbed returns p moved by up to far either way in x and in y, the same place always by
// the same, so that what hangs together still does and nothing hangs on the order.
func perturbed(p orb.Point, far float64) orb.Point {
	// -0 and 0 are one place
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

// perturbedDiscs returns the discs with each centre moved.
func perturbedDiscs(discs []Disc, far float64) []Disc {
	out := make([]Disc, len(discs))
	for i, d := range discs {
		out[i] = Disc{perturbed(d.Center, far), d.Radius}
	}
	return out
}

// finestOf returns how many sides a quarter circle has where the polygon library must
// answer for n circles: 512, fewer where that would take more than a million corners.
// Our choice.
func finestOf(n int) int {
	return min(finelyDrawn, max(discSegments/4, 1<<18/max(1, n)))
}

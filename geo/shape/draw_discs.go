package shape

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// fewestSides is the smallest number of sides of a drawn circle. Our choice: with fewer, moving
// corners by grid steps gives OnGridOfArea too few different areas.
const fewestSides = 16

// sides returns the number of sides of a circle of radius r for which no side is farther inside its
// arc than sagitta: cos(half a turn) = 1 - sagitta/r. With sagitta 0 it is that of Disc.Polygon.
func sides(r, sagitta float64) float64 {
	if !(sagitta > 0) {
		return discSegments
	}
	if sagitta >= r {
		return fewestSides
	}
	return max(fewestSides, math.Ceil(math.Pi/math.Acos(1-sagitta/r)))
}

// DrawDiscs returns the dissolved union of discs, drawn by chords with a sagitta of at most chord
// metres, and its exact area. The drawing has the same area (relative error under 1e-9, except
// where arcs meet within a micrometre). In all else as UnionDiscs.
func DrawDiscs(discs []Disc, chord geo.Meters) (orb.MultiPolygon, geo.SquareMeters) {
	d := NewDiscs(discs)
	defer d.Done()
	return d.Draw(chord)
}

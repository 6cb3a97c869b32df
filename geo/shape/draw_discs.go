package shape

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// fewestSides is how many sides a whole circle is drawn with at least. Our choice: with
// fewer, moving corners by a step of a grid makes too few areas for OnGridOfArea.
const fewestSides = 16

// sides returns how many sides a whole circle of radius r is drawn with so that none
// lies farther under its arc than sagitta: cos(half a turn) = 1 - sagitta/r. Without a
// sagitta they are those of Disc.Polygon.
func sides(r, sagitta float64) float64 {
	if !(sagitta > 0) {
		return discSegments
	}
	if sagitta >= r {
		return fewestSides
	}
	return max(fewestSides, math.Ceil(math.Pi/math.Acos(1-sagitta/r)))
}

// DrawDiscs returns the dissolved union of discs drawn with chords of a sagitta of
// chord metres at most, and its exact area, which the drawing has too (relative error
// under 1e-9 but where arcs meet within a micrometre). Else as UnionDiscs.
func DrawDiscs(discs []Disc, chord geo.Meters) (orb.MultiPolygon, geo.SquareMeters) {
	g := newGroup(discs, 0, float64(chord))
	arcs := g.exposed()
	area := g.area(arcs)
	if mp, ok := g.drawClear(arcs); ok {
		return mp, area
	}
	if mp, ok := drawCircles(discs, float64(chord)); ok {
		return mp, area
	}
	mp := UnionDiscs(discs) // as fine as it goes
	return mp, area
}

package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Inside returns a place inside mp to go to: near itself where it lies in mp, else
// the middle of the nearest stretch of mp on the level of near, else of its widest
// stretch half-way up. The second answer is false for polygons without any room. It
// works in whatever plane mp is in, degrees too. Linear in the vertices.
func Inside(mp orb.MultiPolygon, near orb.Point) (orb.Point, bool) {
	if Contains(mp, near) {
		return near, true
	}
	for _, polygon := range append(orb.MultiPolygon{nil}, mp...) {
		level, part := near[1], mp
		if polygon != nil { // each by itself, half-way up
			box := polygon.Bound()
			level, part = (box.Min[1]+box.Max[1])/2, orb.MultiPolygon{polygon}
		}
		if p, ok := amid(part, level, near[0]); ok && Contains(mp, p) {
			return p, true
		}
	}
	return near, false
}

// amid returns the middle of the stretch of mp at a level that lies nearest to x.
func amid(mp orb.MultiPolygon, level, x float64) (orb.Point, bool) {
	var cuts []float64
	for _, polygon := range mp {
		for _, ring := range polygon {
			for i := 1; i < len(ring); i++ {
				a, b := ring[i-1], ring[i]
				if (a[1] > level) != (b[1] > level) {
					cuts = append(cuts, a[0]+(level-a[1])/(b[1]-a[1])*(b[0]-a[0]))
				}
			}
		}
	}
	slices.Sort(cuts)
	best, found := orb.Point{}, false
	for k := 1; k < len(cuts); k += 2 {
		middle := orb.Point{(cuts[k-1] + cuts[k]) / 2, level}
		if cuts[k] > cuts[k-1] && (!found || math.Abs(middle[0]-x) < math.Abs(best[0]-x)) {
			best, found = middle, true
		}
	}
	return best, found
}

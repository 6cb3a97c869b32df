package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Inside returns a place inside mp to go to: near itself where it is in mp, else the middle of the
// nearest stretch of mp at the level of near, else of its widest stretch half-way up. Where
// possible, the places room away on each side are inside too, so that a smaller rounding keeps it
// inside. The second result is false for polygons without such a place. Works in any plane, degrees
// too. Linear in the vertices.
func Inside(mp orb.MultiPolygon, near orb.Point, room float64) (orb.Point, bool) {
	if roomAt(mp, near, room) {
		return near, true
	}
	for _, polygon := range append(orb.MultiPolygon{nil}, mp...) {
		level, part := near[1], mp
		if polygon != nil { // each polygon alone, half-way up
			box := polygon.Bound()
			level, part = (box.Min[1]+box.Max[1])/2, orb.MultiPolygon{polygon}
		}
		if p, ok := amid(part, level, near[0], room); ok && roomAt(mp, p, room) {
			return p, true
		}
	}
	if room > 0 {
		return Inside(mp, near, 0)
	}
	return near, false
}

// roomAt says whether p and the places room away on each side are in mp.
func roomAt(mp orb.MultiPolygon, p orb.Point, room float64) bool {
	for _, by := range [...]orb.Point{{}, {room, 0}, {-room, 0}, {0, room}, {0, -room}} {
		if !Contains(mp, orb.Point{p[0] + by[0], p[1] + by[1]}) {
			return false
		}
		if room == 0 {
			break
		}
	}
	return true
}

// Amid returns a place well inside mp. It takes the largest polygon and measures its widest
// stretches at the level of its centroid and at a quarter, a half and three quarters of its height,
// so that it does not choose a sliver left along an edge by a cut. The place is the middle of the
// widest. The second result is false for polygons without such a place. Works in any plane. Linear
// in the vertices.
func Amid(mp orb.MultiPolygon) (orb.Point, bool) {
	var largest orb.MultiPolygon
	for _, polygon := range mp {
		if part := (orb.MultiPolygon{polygon}); largest == nil || geo.PolygonArea(part) > geo.PolygonArea(largest) {
			largest = part
		}
	}
	if largest == nil {
		return orb.Point{}, false
	}
	box, best, widest := largest.Bound(), orb.Point{}, 0.0
	high := box.Max[1] - box.Min[1]
	for _, level := range []float64{box.Min[1] + high/2, centroidLevel(largest[0]), box.Min[1] + high/4, box.Min[1] + 3*high/4} {
		cuts := levelCuts(largest, level)
		for k := 1; k < len(cuts); k += 2 {
			middle := orb.Point{(cuts[k-1] + cuts[k]) / 2, level}
			if wide := cuts[k] - cuts[k-1]; wide > widest && Contains(largest, middle) {
				best, widest = middle, wide
			}
		}
	}
	return best, widest > 0
}

// centroidLevel returns the second coordinate of a polygon's centroid, less its holes (Bourke 1988,
// Calculating the area and centroid of a polygon).
func centroidLevel(polygon orb.Polygon) float64 {
	origin, sum, moment := polygon[0][0], 0.0, 0.0
	for r, ring := range polygon {
		area, own := 0.0, 0.0
		for i := 1; i < len(ring); i++ {
			ax, ay := ring[i-1][0]-origin[0], ring[i-1][1]-origin[1]
			bx, by := ring[i][0]-origin[0], ring[i][1]-origin[1]
			area += ax*by - bx*ay
			own += (ay + by) * (ax*by - bx*ay)
		}
		if (area < 0) == (r == 0) { // exteriors add and holes subtract, in either winding
			area, own = -area, -own
		}
		sum, moment = sum+area, moment+own
	}
	if sum == 0 {
		return origin[1]
	}
	return origin[1] + moment/(3*sum)
}

// amid returns the middle of the stretch of mp at a level nearest to x, of stretches longer than
// twice room.
func amid(mp orb.MultiPolygon, level, x, room float64) (orb.Point, bool) {
	cuts := levelCuts(mp, level)
	best, found := orb.Point{}, false
	for k := 1; k < len(cuts); k += 2 {
		middle := orb.Point{(cuts[k-1] + cuts[k]) / 2, level}
		if cuts[k]-cuts[k-1] > 2*room && (!found || math.Abs(middle[0]-x) < math.Abs(best[0]-x)) {
			best, found = middle, true
		}
	}
	return best, found
}

// levelCuts returns where the outlines of mp cross a level, ascending. mp is inside between the
// first and second crossing, the third and fourth, and so on.
func levelCuts(mp orb.MultiPolygon, level float64) (cuts []float64) {
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
	return cuts
}

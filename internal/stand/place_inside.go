package stand

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

// roomInside is the least distance of a place to go to from the outline, in degrees: the sixth
// decimal, the last digit of GEO in a calendar, so that rounding cannot move the place out of its
// stand. Our choice.
const roomInside = 1e-6

// Place returns the place to go to, as Outline.Inside finds it in the footprint.
func (st *Stand) Place() orb.Point {
	if st.Inside != (orb.Point{}) {
		return st.Inside
	}
	return st.Footprint.Inside(st.Center)
}

// Inside returns the place to go to, in degrees normalised to [-180, 180): inside the outline, and
// center where that is inside. An outline without such a place gives center.
func (o Outline) Inside(center orb.Point) orb.Point {
	polygons := o.Polygons()
	near := center
	if west, east := sides(polygons); west <= east {
		for near[0] < west && near[0]+360 <= east {
			near[0] += 360 // outlines continue past 180
		}
	}
	at, ok := shape.Inside(polygons, near, roomInside)
	if !ok {
		return center
	}
	at[0] = earth.Wrap(at[0])
	return at
}

// sides returns the least and the greatest longitude of the outer rings.
func sides(polygons orb.MultiPolygon) (west, east float64) {
	west, east = math.Inf(1), math.Inf(-1)
	for _, polygon := range polygons {
		for _, at := range polygon[0] {
			if at[0] < west {
				west = at[0]
			}
			if at[0] > east {
				east = at[0]
			}
		}
	}
	return west, east
}

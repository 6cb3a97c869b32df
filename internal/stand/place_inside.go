package stand

import (
	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

// roomInside is the least distance of a place to go to from the outline, in degrees: the sixth
// decimal, the last digit of GEO in a calendar, so that rounding cannot move the place out of its
// stand. Our choice.
const roomInside = 1e-6

// Inside returns the place to go to, in degrees normalised to [-180, 180): inside the outline, and
// center where that is inside. An outline without such a place gives center.
func (o Outline) Inside(center orb.Point) orb.Point {
	polygons := o.Polygons()
	near := center
	for box := polygons.Bound(); len(polygons) > 0 && near[0] < box.Min[0] && near[0]+360 <= box.Max[0]; {
		near[0] += 360 // outlines continue past 180
	}
	at, ok := shape.Inside(polygons, near, roomInside)
	if !ok {
		return center
	}
	at[0] = earth.Wrap(at[0])
	return at
}

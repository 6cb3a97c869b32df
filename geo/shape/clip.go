package shape

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
)

// Clip returns the part of mp inside a box of the same plane, which may be in degrees. A part that
// falls into pieces stays connected by sides that run back and forth along the edge of the box: its
// area is right, and MakeValid removes those sides. Linear in the vertices (Sutherland and Hodgman
// 1974, Reentrant polygon clipping, Communications of the ACM 17(1)).
func Clip(mp orb.MultiPolygon, box orb.Bound) orb.MultiPolygon {
	var out orb.MultiPolygon
	for _, polygon := range mp {
		if len(polygon) == 0 || len(polygon[0]) == 0 || !polygon[0].Bound().Intersects(box) {
			continue
		}
		// the library clips in place
		if part := clip.Polygon(box, polygon.Clone()); len(part) > 0 && len(part[0]) > 3 {
			out = append(out, part)
		}
	}
	return out
}

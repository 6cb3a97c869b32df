package shape

import "github.com/paulmach/orb"

// ConvexHull returns the smallest convex area that holds mp, empty where that has no area.
func ConvexHull(mp orb.MultiPolygon) orb.MultiPolygon {
	return fromGeometry(toGeometry(mp).ConvexHull())
}

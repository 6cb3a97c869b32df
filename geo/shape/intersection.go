package shape

import (
	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// Intersection returns the area common to a and b. It is empty where they only touch. Both must be
// valid, see MakeValid.
func Intersection(a, b orb.MultiPolygon) orb.MultiPolygon {
	if len(a) == 0 || len(b) == 0 || !a.Bound().Intersects(b.Bound()) {
		return nil
	}
	return fromGeometry(overlay(func(repair bool) (geom.Geometry, error) {
		return geom.Intersection(prepared(a, repair), prepared(b, repair))
	}))
}

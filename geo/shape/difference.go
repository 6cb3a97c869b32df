package shape

import (
	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// Difference returns the area of a that is not in b. Both must be valid, see
// MakeValid.
func Difference(a, b orb.MultiPolygon) orb.MultiPolygon {
	if len(a) == 0 || len(b) == 0 || !a.Bound().Intersects(b.Bound()) {
		return a
	}
	return fromGeometry(overlay(func(repair bool) (geom.Geometry, error) {
		return geom.Difference(prepared(a, repair), prepared(b, repair))
	}))
}

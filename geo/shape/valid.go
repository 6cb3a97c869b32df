package shape

import (
	"errors"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// Valid returns nil when mp is a valid area in the sense of OGC Simple
// Features: finite, rings closed and not crossing themselves or each other,
// holes inside their exteriors, polygons at most touching. Winding is free.
func Valid(mp orb.MultiPolygon) error {
	for _, p := range mp {
		if len(p) == 0 {
			return errors.New("polygon without a ring")
		}
		for _, r := range p {
			if len(r) < 4 || r[0] != r[len(r)-1] {
				return errors.New("ring not closed or of fewer than three corners")
			}
			if _, ok := flatten(r); !ok {
				return errors.New("coordinate that is not finite")
			}
		}
	}
	return toGeometry(mp).Validate()
}

// MakeValid returns mp as a valid area and whether it had to be changed for
// that. Of a ring that crosses itself the places it runs around an odd number
// of times are kept, so both halves of a figure of eight; holes are taken out,
// polygons of one area that overlap are joined. Rings that are open are
// closed; rings without area or with a coordinate that is not finite are
// dropped.
func MakeValid(mp orb.MultiPolygon) (orb.MultiPolygon, bool) {
	if Valid(mp) == nil {
		return normalize(mp.Clone()), false
	}
	var parts []geom.Geometry
	for _, p := range mp {
		if len(p) == 0 {
			continue
		}
		area := oddArea(p[0])
		for _, hole := range p[1:] {
			area = must(geom.Difference(area, oddArea(hole)))
		}
		parts = append(parts, area)
	}
	if len(parts) == 0 {
		return nil, true
	}
	return fromGeometry(must(geom.UnionMany(parts))), true
}

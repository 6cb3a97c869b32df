package shape

import (
	"errors"
	"slices"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// Valid returns nil when mp is a valid area in the sense of OGC Simple Features: finite, rings
// closed and not crossing themselves or each other, holes inside their exteriors, polygons at most
// touching. Either winding is valid.
func Valid(mp orb.MultiPolygon) error {
	if err := wellFormed(mp); err != nil {
		return err
	}
	if provedValid(mp) {
		return nil
	}
	return toGeometry(mp).Validate()
}

// validUnlessNear reports whether mp is valid, its holes being in their exteriors. The library, which takes
// longer, is only asked where sides are nearer than clear.
func validUnlessNear(mp orb.MultiPolygon, clear float64) bool {
	return isClear(mp, clear) || Valid(mp) == nil
}

// wellFormed returns nil when every ring is closed and finite with three corners.
func wellFormed(mp orb.MultiPolygon) error {
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
	return nil
}

// Mend is MakeValid, but faulty is true only when an outline crossed or touched itself: parts that
// only lie side by side, as on both sides of the antimeridian, are joined without being a fault. A
// valid area is returned as it is.
func Mend(mp orb.MultiPolygon) (mended orb.MultiPolygon, faulty bool) {
	mended, changed := MakeValid(mp)
	if !changed {
		return mp, false
	}
	return mended, slices.ContainsFunc(mp, func(p orb.Polygon) bool { return Valid(orb.MultiPolygon{p}) != nil })
}

// MakeValid returns mp as a valid area, and whether it had to change it. Of a ring that crosses
// itself it keeps the places that the ring runs around an odd number of times, so both halves of a
// figure eight. Holes are taken out, overlapping polygons of one area joined, open rings closed.
// Rings without area or with a coordinate that is not finite are dropped.
func MakeValid(mp orb.MultiPolygon) (orb.MultiPolygon, bool) {
	if whole, ok := validNormal(mp.Clone()); ok {
		return whole, false
	}
	parts := make([]orb.MultiPolygon, len(mp))
	for i, p := range mp {
		if len(p) == 0 {
			continue
		}
		parts[i] = evenOddArea(p[0])
		if len(p) > 1 {
			holes := make([]orb.MultiPolygon, len(p)-1)
			for k, hole := range p[1:] {
				holes[k] = evenOddArea(hole)
			}
			parts[i] = difference(parts[i], unite(holes))
		}
	}
	return unite(parts), true
}

// validNormal changes mp to normal form, and returns it and whether it is valid. Where vertices lie
// on a side except for rounding, the library's answer depends on where a ring starts; so it is
// asked about the normal form.
func validNormal(mp orb.MultiPolygon) (orb.MultiPolygon, bool) {
	if wellFormed(mp) != nil {
		return nil, false
	}
	mp = normalize(mp)
	return mp, provedValid(mp) || toGeometry(mp).Validate() == nil
}

// provedValid reports whether an area of many vertices is proved to be valid without the library, which
// looks at all vertices of an exterior for each of its holes. False only means that it must be asked.
func provedValid(mp orb.MultiPolygon) bool {
	return vertices(mp) >= manySides && onlyTouch(mp, roundingOf(exteriorBox(mp)))
}

// unite returns the union of valid areas. Unlike Union it does not look again at the polygons of
// one area, which may be thousands that touch.
func unite(parts []orb.MultiPolygon) orb.MultiPolygon {
	parts = slices.DeleteFunc(parts, func(mp orb.MultiPolygon) bool { return len(mp) == 0 })
	boxes := make([]orb.Bound, len(parts))
	for i, mp := range parts {
		boxes[i] = mp.Bound()
	}
	var all orb.MultiPolygon
	for _, class := range Together(boxes) {
		if len(class) == 1 {
			all = append(all, parts[class[0]]...)
			continue
		}
		together := make([]geom.Geometry, len(class))
		for k, i := range class {
			together[k] = toGeometry(parts[i])
		}
		all = appendPolygons(all, must(geom.UnionMany(together)))
	}
	return normalize(all)
}

// difference returns a without b, both valid.
func difference(a, b orb.MultiPolygon) orb.MultiPolygon {
	return fromGeometry(overlay(func(repair bool) (geom.Geometry, error) {
		return geom.Difference(prepared(a, repair), prepared(b, repair))
	}))
}

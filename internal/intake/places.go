package intake

import (
	"fmt"

	"github.com/paulmach/orb"
)

// places is a feature's geometry by kind.
type places struct {
	points orb.MultiPoint
	lines  orb.MultiLineString
	areas  orb.MultiPolygon
}

// placesOf copies the feature's geometry out of the reader's memory: lines of two
// vertices or more, areas with their rings closed. False means that it was
// rejected.
func (r *featureReader) placesOf(f *feature, memory *slab) (places, bool) {
	var p places
	switch f.shape.kind {
	case noShape:
	case pointShape, multiPointShape:
		p.points = orb.MultiPoint(memory.copy(f.shape.points))
	case lineShape, multiLineShape:
		for i := range f.shape.parts {
			if part := f.shape.part(i); len(part) > 1 {
				p.lines = append(p.lines, orb.LineString(memory.copy(part)))
			}
		}
		if len(p.lines) == 0 {
			r.reject(f, ruleMalformed, "geometry", f.shape.name, "no line has two places or more")
			return p, false
		}
	default:
		if !finite(f.shape.points) {
			r.reject(f, ruleMalformed, "geometry", "", "a coordinate is not a finite number")
			return p, false
		}
		outline, closed := outlineOf(&f.shape, memory)
		if len(outline) == 0 {
			r.reject(f, ruleMalformed, "geometry", f.shape.name, "no ring of the outline has three places or more")
			return p, false
		}
		if closed {
			r.report(f, ruleOutlineRepair, "geometry", "", fmt.Sprintf("a ring of the %s does not end where it begins; it was closed", f.shape.name))
		}
		p.areas = outline
	}
	return p, true
}

// rejectFeature rejects a feature that cannot be read or whose geometry cannot be
// used, and says whether it did.
func (r *featureReader) rejectFeature(f *feature, wanted func(shapeKind) bool) bool {
	if f.wrong == "" {
		return r.rejectShape(f, wanted)
	}
	rule := ruleUnreadable
	if r.tabular() {
		rule = ruleRagged
	}
	r.reject(f, rule, "", "", f.wrong)
	return true
}

func areaLike(k shapeKind) bool { return k == polygonShape || k == multiPolygonShape }

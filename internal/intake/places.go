package intake

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
)

// places is a feature's geometry by kind.
type places struct {
	points orb.MultiPoint
	lines  orb.MultiLineString
	areas  orb.MultiPolygon
}

// placesOf copies the feature's geometry from the reader's memory: lines of two or more vertices, and
// areas with closed rings. False means that the feature was rejected.
func (r *featureReader) placesOf(f *format.Feature, memory *slab) (places, bool) {
	var p places
	switch f.Shape.Kind {
	case format.NoShape:
	case format.PointShape, format.MultiPointShape:
		p.points = orb.MultiPoint(memory.copy(f.Shape.Points))
	case format.LineShape, format.MultiLineShape:
		for i := range f.Shape.Parts {
			if part := f.Shape.Part(i); len(part) > 1 {
				p.lines = append(p.lines, orb.LineString(memory.copy(part)))
			}
		}
		if len(p.lines) == 0 {
			r.reject(f, ruleMalformed, "geometry", f.Shape.Name, "no line has two places or more")
			return p, false
		}
	default:
		if !finite(f.Shape.Points) {
			r.reject(f, ruleMalformed, "geometry", "", "a coordinate is not a finite number")
			return p, false
		}
		outline, closed := outlineOf(&f.Shape, memory)
		if len(outline) == 0 {
			r.reject(f, ruleMalformed, "geometry", f.Shape.Name, "no ring of the outline has three places or more")
			return p, false
		}
		if closed {
			r.report(f, ruleOutlineRepair, "geometry", "", fmt.Sprintf("a ring of the %s does not end where it begins; it was closed", f.Shape.Name))
		}
		p.areas = outline
	}
	return p, true
}

// shaped does the same for a feature that must have a geometry of a wanted kind.
func (r *featureReader) shaped(f *format.Feature, wanted shapeKinds, memory *slab) (places, bool) {
	if r.rejectFeature(f, wanted) {
		return places{}, false
	}
	if f.Shape.Kind == format.NoShape {
		r.reject(f, ruleEmpty, "geometry", "", "the feature has no geometry")
		return places{}, false
	}
	return r.placesOf(f, memory)
}

func finite(points []orb.Point) bool {
	for _, p := range points {
		if math.IsNaN(p[0]-p[0]) || math.IsNaN(p[1]-p[1]) {
			return false
		}
	}
	return true
}

package intake

import (
	"slices"
	"strings"

	"driftreach/internal/format"
)

// shapeKinds are the kinds of geometry that an input accepts.
type shapeKinds []format.ShapeKind

// The kinds that inputs accept.
var (
	lines         = shapeKinds{format.LineShape, format.MultiLineShape}
	areas         = shapeKinds{format.PolygonShape, format.MultiPolygonShape}
	pointsOrAreas = slices.Concat(shapeKinds{format.PointShape, format.MultiPointShape}, areas)
	linesOrAreas  = slices.Concat(lines, areas)
	anyShape      = slices.Concat(shapeKinds{format.PointShape, format.MultiPointShape}, linesOrAreas)
)

func (k shapeKinds) has(kind format.ShapeKind) bool { return slices.Contains(k, kind) }

// shapeWords are the names of the kinds in GeoJSON (RFC 7946, section 1.4).
var shapeWords = map[format.ShapeKind]string{
	format.PointShape: "Point", format.MultiPointShape: "MultiPoint", format.LineShape: "LineString", format.MultiLineShape: "MultiLineString",
	format.PolygonShape: "Polygon", format.MultiPolygonShape: "MultiPolygon",
}

// String lists the kinds, such as "LineString or MultiLineString"; blank for none.
func (k shapeKinds) String() string {
	words := make([]string, len(k))
	for i, kind := range k {
		words[i] = shapeWords[kind]
	}
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

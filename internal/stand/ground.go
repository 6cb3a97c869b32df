package stand

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

// Ground is the ground of a stand, prepared for distance queries.
type Ground struct {
	outline Outline
	middle  orb.Point
	box     orb.Bound
}

// GroundOf returns the ground of an outline; middle is a place within it.
func GroundOf(outline Outline, middle orb.Point) Ground {
	return Ground{outline: outline, middle: middle, box: outline.Bound()}
}

// Near says whether a place lies within a distance of the ground.
func (g Ground) Near(p orb.Point, d geo.Meters) bool {
	// a degree of latitude is more than 100 km; the ground's own middle is near enough to rule out
	// most places
	span := max(g.box.Max[0]-g.box.Min[0], g.box.Max[1]-g.box.Min[1])
	if earth.Distance(g.middle, p) > d+geo.Meters(span*2*111_320) {
		return false
	}
	return NearArea(g.outline.Polygons(), g.middle, p, d)
}

// NearArea says whether place p is within a distance of an area in degrees. about is a place in or
// near the area.
func NearArea(area orb.MultiPolygon, about, p orb.Point, d geo.Meters) bool {
	frame := earth.NewFrame(about)
	return shape.Within(frame.Project(area), frame.Forward(p), d)
}

package followup

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

// footprint is a stand's footprint in the metres of a frame centred on the stand.
type footprint struct {
	frame  earth.Frame
	area   orb.MultiPolygon
	radius geo.Meters
}

func footprintOf(sub *Subject) *footprint {
	if sub.Footprint == nil {
		return nil
	}
	f := &footprint{frame: earth.NewFrame(sub.Place.Position)}
	f.area = f.frame.Project(sub.Footprint.Polygons())
	for _, polygon := range f.area {
		for _, xy := range polygon[0] {
			f.radius = max(f.radius, geo.Meters(math.Hypot(xy[0], xy[1])))
		}
	}
	return f
}

func (f *footprint) distance(p orb.Point) geo.Meters {
	return shape.DistanceToLine(f.area, orb.LineString{f.frame.Forward(p)})
}

// within returns the part of an area in degrees inside the footprint, in metres of its frame; nil
// for less than leastGround.
func (f *footprint) within(area orb.MultiPolygon) orb.MultiPolygon {
	if f == nil {
		return nil
	}
	xy, _ := shape.MakeValid(f.frame.Project(area))
	if !xy.Bound().Intersects(f.area.Bound()) {
		return nil
	}
	both := shape.Intersection(f.area, xy)
	if geo.PolygonArea(both) < leastGround {
		return nil
	}
	return both
}

// divide records the treated ground of a footprint, and the rest, in a part.
func (f *footprint) divide(p *Part, treated orb.MultiPolygon) {
	p.Share = float64(geo.PolygonArea(treated) / geo.PolygonArea(f.area))
	rest := shape.Difference(f.area, treated)
	p.Cut = &Cut{f.frame.Unproject(treated), f.inside(treated), f.frame.Unproject(rest), f.inside(rest)}
}

// inside returns the place to go to in a part of the footprint, in degrees.
func (f *footprint) inside(part orb.MultiPolygon) orb.Point {
	at, _ := shape.Amid(part)
	return f.frame.Inverse(at)
}

// leastGround is the smallest area of a stand, in square metres, that a drawn area must cover to
// count as treating any of it. Our choice: less can be the rounding of two outlines that touch.
const leastGround geo.SquareMeters = 1

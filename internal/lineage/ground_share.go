package lineage

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
)

// ShareOn returns the share of a footprint, 0 to 1, on the ground of a known stand. That ground is
// widened by the distance two positions of one plant may be apart.
func (k *Known) ShareOn(footprint stand.Outline, s Settings) float64 {
	if _, ok := boxOf(k.Footprint); !ok {
		return 0
	}
	frame := earth.NewFrame(k.Center)
	mine := plotIn(frame, footprint.Polygons())
	if mine.size <= 0 {
		return 0
	}
	valid, _ := shape.MakeValid(frame.Project(k.Footprint.Polygons()))
	apart := min(s.JoinDistance, geo.Meters(2*math.Sqrt2)*s.Uncertainty)
	on := shape.IntersectionArea(mine.areas, shape.BufferPolygon(valid, apart, roundSegments))
	if share := float64(on / mine.size); share < whole {
		return max(0, share)
	}
	return 1
}

// plot is a footprint in the metres of a frame.
type plot struct {
	areas orb.MultiPolygon
	size  geo.SquareMeters
}

// plotIn projects polygons in degrees. Longitudes one turn apart give the same plot.
func plotIn(frame earth.Frame, areas orb.MultiPolygon) plot {
	xy := frame.Project(areas)
	return plot{xy, geo.PolygonArea(xy)}
}

// perimeter returns the general perimeter of a footprint: gaps up to the join distance are closed.
func (p plot) perimeter(join geo.Meters) plot {
	valid, _ := shape.MakeValid(p.areas)
	closed := shape.Closing(valid, join)
	if size := geo.PolygonArea(closed); size > p.size {
		return plot{closed, size}
	}
	return p
}

// near returns the areas of p whose boxes come within join of q's. Within q's box their general
// perimeter is that of all of p: a gap is closed by what lies within join of it.
func (p plot) near(q plot, join geo.Meters) plot {
	box := q.areas.Bound().Pad(float64(join))
	var areas orb.MultiPolygon
	for _, polygon := range p.areas {
		if polygon.Bound().Intersects(box) {
			areas = append(areas, polygon)
		}
	}
	return plot{areas, geo.PolygonArea(areas)}
}

// about is near, cut off a little more than join outside q's box.
func (p plot) about(q plot, join geo.Meters) plot {
	areas := shape.Clip(p.near(q, join).areas, q.areas.Bound().Pad(1.01*float64(join)))
	return plot{areas, geo.PolygonArea(areas)}
}

// meets says whether the general perimeters of two footprints that share no ground may share some.
// A perimeter reaches half of the join distance from its footprint at most; gaps and theirGaps say
// which of the two have one that is larger.
func (p plot) meets(q plot, gaps, theirGaps bool, join geo.Meters) bool {
	var reach geo.Meters
	for _, wide := range [2]bool{gaps, theirGaps} {
		if wide {
			reach += join / 2
		}
	}
	return p.near(q, join).apart(q.near(p, join)) <= reach
}

// mayShare is false when the general perimeters of two footprints have surely less than the given
// share of the smaller one in common. A perimeter lies in the convex hull of its footprint; half of
// the share allows for the chords by which gaps are closed.
func (p plot) mayShare(q plot, share float64, join geo.Meters) bool {
	both := shape.IntersectionArea(shape.ConvexHull(p.near(q, join).areas), shape.ConvexHull(q.near(p, join).areas))
	return float64(both) >= share/2*float64(min(p.size, q.size))
}

// shared returns the ground common to two footprints, and its share of the smaller one.
func (p plot) shared(q plot) (geo.SquareMeters, float64) {
	both := shape.IntersectionArea(p.areas, q.areas)
	least := min(p.size, q.size)
	if !(both > 0 && least > 0) {
		return 0, 0
	}
	return both, min(1, float64(both/least))
}

// apart returns the shortest distance between two footprints, neither of which may lie inside the
// other.
func (p plot) apart(q plot) geo.Meters {
	least := geo.Meters(math.Inf(1))
	for _, polygon := range q.areas {
		for _, ring := range polygon {
			least = min(least, shape.DistanceToLine(p.areas, orb.LineString(ring)))
		}
	}
	return least
}

// roundSegments is the number of sides of a quarter circle around surveyed ground. Our choice:
// within 0.6 % of its radius.
const roundSegments = 8

// whole is the share of a patch that counts as all of it. Our choice: allows for the chords of
// circles and the rounding of positions to millimetres.
const whole = 0.995

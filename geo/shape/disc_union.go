package shape

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// UnionDiscs returns the dissolved union of discs, with the area of the union of the true circles
// (relative error under 1e-9). The corners on every arc of its outline are no farther apart than in
// Disc.Polygon. The ends of an arc are the true crossings; the corners in between are placed so
// that the arc keeps its area.
//
// The arcs are computed from the circles (no polygon is cut), so discs may be equal, nested,
// tangent, or many through one place. About 2 microseconds for a disc with a dozen neighbours;
// quadratic only in discs near one place, or much smaller than the largest.
func UnionDiscs(discs []Disc) orb.MultiPolygon {
	if mp, ok := drawCircles(discs, 0); ok {
		return mp
	}
	return unionDiscPolygons(discs)
}

// SketchDiscs is UnionDiscs for measuring only. Where circles touch or nearly touch, its outline
// may touch or cross itself by as much as rounding.
func SketchDiscs(discs []Disc) orb.MultiPolygon {
	g := newGroup(discs, 0, 0)
	defer g.done()
	mp, ok := g.draw(g.exposed())
	if !ok {
		mp = UnionDiscs(discs)
	}
	return mp
}

// drawCircles draws the union by chords with the given sagitta. Where rounding keeps arcs from
// closing, it moves centres and tries again; false when that does not help.
func drawCircles(discs []Disc, sagitta float64) (orb.MultiPolygon, bool) {
	return untilClosed(func(far float64) (orb.MultiPolygon, bool) {
		g := newGroup(perturbedDiscs(discs, far), 0, sagitta)
		return g.drawClear(g.exposed())
	})
}

// drawClear is draw; false also when the drawing is not valid.
func (g *group) drawClear(arcs []arc) (orb.MultiPolygon, bool) {
	mp, ok := g.draw(arcs)
	return mp, ok && validUnlessNear(mp, clearance/4)
}

// UnionDiscsArea returns the exact area of the union of discs.
func UnionDiscsArea(discs []Disc) geo.SquareMeters {
	d := NewDiscs(discs)
	defer d.Done()
	return d.Area()
}

// area returns the area enclosed by arcs.
func (g *group) area(arcs []arc) geo.SquareMeters {
	total := 0.0
	for _, a := range arcs {
		total += arcIntegral(g.circles[a.circle], a.start, a.end)
	}
	return geo.SquareMeters(total)
}

// arcIntegral returns an arc's contribution to the area of its outline: half the integral of x dy -
// y dx (Green's theorem).
func arcIntegral(c circle, start, end float64) float64 {
	s0, c0 := math.Sincos(start)
	s1, c1 := math.Sincos(end)
	return c.r / 2 * (c.r*(end-start) + c.x*(s1-s0) - c.y*(c1-c0))
}

// unionDiscPolygons is the result of the polygon library, for arcs that rounding keeps from
// closing.
func unionDiscPolygons(discs []Disc) orb.MultiPolygon {
	var parts []orb.MultiPolygon
	for _, d := range discs {
		if p := d.Polygon(); p != nil {
			parts = append(parts, orb.MultiPolygon{p})
		}
	}
	mp, _ := MakeValid(Union(parts, 1)) // the library's union may touch itself through rounding
	return mp
}

// draw makes polygons of the arcs; false when they do not close into one outline, with its holes,
// for each component.
func (g *group) draw(arcs []arc) (orb.MultiPolygon, bool) {
	route, ok := follow(arcs, len(g.circles))
	if !ok {
		return nil, false
	}
	rings := newRings()
	for k := range arcs {
		if route.next[k] >= 0 && !rings.add(int(g.component[arcs[k].circle]), g.ring(arcs, route.next, k)) {
			return nil, false
		}
	}
	return rings.polygons(route.doubtful)
}

// ring returns the closed outline that contains arc k, and marks its arcs as done in next.
func (g *group) ring(arcs []arc, next []int32, k int) orb.Ring {
	ring := g.corners[:0]
	for at := k; next[at] >= 0; {
		ring = g.appendCorners(ring, arcs[at])
		at, next[at] = int(next[at]), -1
	}
	g.corners = ring
	return placed(ring, g.origin)
}

// placed returns an open ring closed, with its corners told from an origin, in memory of its own.
func placed(ring orb.Ring, origin orb.Point) orb.Ring {
	out := make(orb.Ring, 0, len(ring)+1)
	for _, p := range ring {
		out = append(out, orb.Point{p[0] + origin[0], p[1] + origin[1]})
	}
	return append(out, out[0])
}

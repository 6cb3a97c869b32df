package shape

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Discs is a set of discs prepared once to be measured and drawn in several ways. It keeps the
// discs, which must not change.
type Discs struct {
	discs []Disc
	bare  *group
}

// NewDiscs prepares discs. n log n; quadratic only in discs that overlap in x.
func NewDiscs(discs []Disc) Discs { return Discs{discs, newMeasured(discs, 0)} }

// Area is UnionDiscsArea of the discs.
func (d Discs) Area() (area geo.SquareMeters) {
	d.bare.withArcs(func(arcs []arc) { area = d.bare.area(arcs) })
	return area
}

// Closing is CloseUnion of the discs.
func (d Discs) Closing(gap geo.Meters, union geo.SquareMeters) geo.SquareMeters {
	if !(gap > 0) {
		return union
	}
	rho := float64(gap) / 2
	area, ok := untilClosed(func(far float64) (geo.SquareMeters, bool) {
		if far == 0 {
			return d.bare.grown(rho).closed(rho)
		}
		return newMeasured(perturbedDiscs(d.discs, far), rho).closed(rho)
	})
	if !ok {
		area = closePolygons(d.discs, gap)
	}
	return max(union, area)
}

// Exposures is Exposures of the discs.
func (d Discs) Exposures(gap geo.Meters) []Exposure {
	rho := max(0, float64(gap)/2)
	return d.bare.grown(rho).exposures(d.discs, d.bare.indices(d.discs, 0), rho)
}

// Draw is DrawDiscs of the discs.
func (d Discs) Draw(chord geo.Meters) (orb.MultiPolygon, geo.SquareMeters) {
	g := *d.bare
	g.sagitta = float64(chord)
	g.relate()
	arcs := g.exposed()
	area := g.area(arcs)
	mp, ok := g.drawClear(arcs)
	if !ok {
		mp, ok = drawCircles(d.discs, float64(chord))
	}
	if !ok {
		mp = UnionDiscs(d.discs) // as fine as possible
	}
	return mp, area
}

// grown returns the circles of g, which must be as newMeasured makes them, with radii enlarged by
// rho. They have the same order, and none comes to lie inside another.
func (g *group) grown(rho float64) *group {
	if rho == 0 {
		return g
	}
	out := &group{origin: g.origin, circles: make([]circle, len(g.circles)), largest: g.largest + rho}
	for i, c := range g.circles {
		out.circles[i] = circle{c.x, c.y, c.r + rho}
	}
	return out
}

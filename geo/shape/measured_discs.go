package shape

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Discs is a set of discs prepared once to be measured and drawn in several ways. It keeps the
// discs, which must not change.
type Discs struct {
	discs []Disc
	bare  *group
}

// NewDiscs prepares discs. n log n; quadratic only in discs of many sizes near one place, or much smaller
// than the largest.
func NewDiscs(discs []Disc) Discs { return Discs{discs, newMeasured(discs, 0)} }

// Again is NewDiscs of other discs in the memory of d, which must not be used again.
func (d Discs) Again(discs []Disc) Discs {
	if d.bare == nil {
		return NewDiscs(discs)
	}
	d.bare.measure(discs, 0)
	return Discs{discs, d.bare}
}

// Done lets go of the memory of d, which must not be used again. Nothing that d returned is in it.
func (d Discs) Done() {
	if d.bare != nil {
		d.bare.done()
	}
}

// Area is UnionDiscsArea of the discs.
func (d Discs) Area() geo.SquareMeters { return d.bare.area(d.bare.exposed()) }

// Closing is CloseDiscs of discs whose union has a known area. The result is never below that area.
//
// Enlarged discs are still discs. Shrinking their union by rho brings every exposed arc back to the
// arc of its own disc. Around every corner where two arcs meet it adds an arc of radius rho, less
// what other corners cut off: the reentrant arcs of a solvent-excluded surface in the plane
// (Connolly 1983, J. Appl. Cryst. 16, 548-558). The area follows from the arcs by Green's theorem.
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

// Exposures returns, by disc, the derivatives of CloseDiscs with the same gap, and of UnionDiscsArea
// for a gap of 0. The derivative of a union by a radius is the length of the exposed arc; by a
// position, the sum of that arc's outward normals (Reynolds' transport theorem). A closing adds its
// reentrant arcs, which move with their corners. Error about 1e-9 of the disc except where circles
// graze; cost as for CloseDiscs. Of equal discs the first is exposed.
func (d Discs) Exposures(gap geo.Meters) []Exposure {
	rho := max(0, float64(gap)/2)
	return d.bare.grown(rho).exposures(d.discs, d.bare.indices(d.discs, 0), rho)
}

// Draw is DrawDiscs of the discs.
func (d Discs) Draw(chord geo.Meters) (orb.MultiPolygon, geo.SquareMeters) {
	arcs := d.bare.exposed()
	area := d.bare.area(arcs)
	g := *d.bare
	g.sagitta = float64(chord)
	g.relate()
	mp, ok := g.drawClear(arcs)
	d.bare.corners = g.corners
	if !ok {
		mp, ok = drawCircles(d.discs, float64(chord))
	}
	if !ok {
		mp = UnionDiscs(d.discs) // as fine as possible
	}
	return mp, area
}

// widened is a group enlarged by a width, once it is known.
type widened struct {
	group
	by    float64
	known bool
}

// grown returns the circles of g, which must be as newMeasured makes them, with radii enlarged by
// rho. They have the same order, and none comes to lie inside another. The result is kept for the next
// call; it is valid until a call with another rho.
func (g *group) grown(rho float64) *group {
	if rho == 0 {
		return g
	}
	if g.wide == nil {
		g.wide = new(widened)
	}
	out := &g.wide.group
	if g.wide.known && g.wide.by == rho {
		return out
	}
	g.wide.known, g.wide.by = true, rho
	*out = group{origin: g.origin, circles: slices.Grow(out.circles[:0], len(g.circles)), largest: g.largest + rho, rows: g.rows, arcs: out.arcs}
	for _, c := range g.circles {
		out.circles = append(out.circles, circle{c.x, c.y, c.r + rho})
	}
	return out
}

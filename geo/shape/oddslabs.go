package shape

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"
)

// edge is a segment of a ring with its lower end first.
type edge struct{ low, high orb.Point }

// slabArea is oddArea by another way, which needs no cut edges: the plane is cut
// into horizontal slabs at every vertex and every crossing, so that within a slab
// edges only lie side by side; the trapezoids between the first and the second,
// the third and the fourth and so on are the area. At least the square of the
// vertices.
func slabArea(r orb.Ring) orb.MultiPolygon {
	edges := slopingEdges(r)
	levels := slabLevels(r, edges)
	var parts []geom.Geometry
	for i := 0; i+1 < len(levels); i++ {
		parts = appendTrapezoids(parts, edges, levels[i], levels[i+1])
	}
	if len(parts) == 0 {
		return nil
	}
	return fromGeometry(must(geom.UnionMany(parts)))
}

// slopingEdges returns the edges of r that are not horizontal.
func slopingEdges(r orb.Ring) []edge {
	var edges []edge
	a := r[len(r)-1]
	for _, b := range r {
		if a[1] < b[1] {
			edges = append(edges, edge{a, b})
		} else if a[1] > b[1] {
			edges = append(edges, edge{b, a})
		}
		a = b
	}
	return edges
}

// slabLevels returns the heights of all vertices and crossings, each once.
func slabLevels(r orb.Ring, edges []edge) []float64 {
	var levels []float64
	for _, p := range r {
		levels = append(levels, p[1])
	}
	for i, e := range edges {
		for _, f := range edges[:i] {
			if y, ok := crossingHeight(e, f); ok {
				levels = append(levels, y)
			}
		}
	}
	slices.Sort(levels)
	return slices.Compact(levels)
}

// crossingHeight returns where e and f cross within both.
func crossingHeight(e, f edge) (float64, bool) {
	lo, hi := max(e.low[1], f.low[1]), min(e.high[1], f.high[1])
	if lo >= hi {
		return 0, false
	}
	below, above := e.x(lo)-f.x(lo), e.x(hi)-f.x(hi)
	if (below < 0) == (above < 0) {
		return 0, false
	}
	return min(max(lo+(hi-lo)*below/(below-above), lo), hi), true
}

// x returns where e is at height y.
func (e edge) x(y float64) float64 {
	switch y {
	case e.low[1]:
		return e.low[0]
	case e.high[1]:
		return e.high[0]
	}
	return e.low[0] + (e.high[0]-e.low[0])*((y-e.low[1])/(e.high[1]-e.low[1]))
}

// appendTrapezoids appends the odd areas between heights lo and hi.
func appendTrapezoids(parts []geom.Geometry, edges []edge, lo, hi float64) []geom.Geometry {
	type side struct{ low, high float64 }
	var sides []side
	for _, e := range edges {
		if e.low[1] <= lo && e.high[1] >= hi {
			sides = append(sides, side{e.x(lo), e.x(hi)})
		}
	}
	slices.SortFunc(sides, func(a, b side) int { return cmp.Compare(a.low+a.high, b.low+b.high) })
	for i := 0; i+1 < len(sides); i += 2 {
		a, b := sides[i], sides[i+1]
		// Rounding may swap ends that cross just here.
		a, b = side{min(a.low, b.low), min(a.high, b.high)}, side{max(a.low, b.low), max(a.high, b.high)}
		ring := orb.Ring{{a.low, lo}, {b.low, lo}, {b.high, hi}, {a.high, hi}}
		if a.low == b.low {
			ring = ring[1:]
		} else if a.high == b.high {
			ring = ring[:3]
		}
		if signedArea(ring) > 0 {
			parts = append(parts, toGeometry(orb.MultiPolygon{{ring}}))
		}
	}
	return parts
}

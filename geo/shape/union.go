package shape

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"

	"driftreach/geo/parallel"
)

// Union returns the union of parts, dissolved. Parts are split into groups whose boxes touch,
// directly or through others, and the groups are unioned by the given number of workers (below 1
// counts as 1), with the same bytes for any number. Near linear in the vertices when groups are
// small. Parts must be valid, see MakeValid.
func Union(parts []orb.MultiPolygon, workers int) orb.MultiPolygon {
	groups := groupByBox(splitPolygons(parts))
	results := make([]orb.MultiPolygon, len(groups))
	each(len(groups), workers, func(i int) { results[i] = unionGroup(groups[i]) })
	return normalize(slices.Concat(results...))
}

// Gather returns the polygons of parts known to be apart, in normal form: the same as Union,
// without the search for places where they meet.
func Gather(parts []orb.MultiPolygon) orb.MultiPolygon {
	return normalize(slices.Concat(parts...))
}

// splitPolygons returns the polygons of all parts that have an area, in normal order, so that the
// result does not depend on the given order.
func splitPolygons(parts []orb.MultiPolygon) []orb.Polygon {
	var out []orb.Polygon
	for _, mp := range parts {
		out = append(out, normalize(mp.Clone())...)
	}
	slices.SortFunc(out, func(a, b orb.Polygon) int { return compareRings(a[0], b[0]) })
	return out
}

// groupByBox splits polygons into classes connected by touching boxes, sorted by each class's first
// member.
func groupByBox(polygons []orb.Polygon) [][]orb.Polygon {
	boxes := make([]orb.Bound, len(polygons))
	for i, p := range polygons {
		boxes[i] = p.Bound()
	}
	classes := Together(boxes)
	groups := make([][]orb.Polygon, len(classes))
	for k, class := range classes {
		for _, i := range class {
			groups[k] = append(groups[k], polygons[i])
		}
	}
	return groups
}

// fewDissolved is the largest number of polygons the library dissolves at once. Our choice: the
// library compares every outline that meets no other with all outlines of the same height, which
// along a river takes the square of their number.
const fewDissolved = 256

// unionGroup dissolves polygons with connected boxes, in normal order. Many of them are dissolved
// half by half, so that only outlines on both sides of a cut are handled twice.
func unionGroup(polygons []orb.Polygon) orb.MultiPolygon {
	if len(polygons) < 2 {
		return orb.MultiPolygon(polygons).Clone()
	}
	if n := len(polygons); n > fewDissolved {
		left, right := unionGroup(polygons[:n/2]), unionGroup(polygons[n/2:])
		return joinHalves(left, right)
	}
	return dissolve(polygons)
}

// joinHalves is the union of two areas. Polygons apart from the whole other area are kept as they
// are.
func joinHalves(left, right orb.MultiPolygon) orb.MultiPolygon {
	var out orb.MultiPolygon
	for _, group := range groupByBox(slices.Concat(left, right)) {
		if len(group) == 1 {
			out = append(out, group[0])
		} else {
			out = append(out, dissolve(group)...)
		}
	}
	return out
}

// dissolve is the library's union.
func dissolve(polygons []orb.Polygon) orb.MultiPolygon {
	return fromGeometry(overlay(func(repair bool) (geom.Geometry, error) {
		parts := make([]geom.Geometry, len(polygons))
		for i, p := range polygons {
			parts[i] = prepared(orb.MultiPolygon{p}, repair)
		}
		return geom.UnionMany(parts)
	}))
}

// each calls do with 0..n-1, from the given number of workers.
func each(n, workers int, do func(int)) {
	workers = min(workers, n)
	if workers < 2 {
		for i := range n {
			do(i)
		}
		return
	}
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	var tasks parallel.Group
	for range workers {
		tasks.Do(func() {
			for i := range next {
				do(i)
			}
		})
	}
	_ = tasks.Wait() // no task returns an error
}

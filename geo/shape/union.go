package shape

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/peterstace/simplefeatures/geom"

	"driftreach/geo/parallel"
)

// Union returns the set of points in any of parts, dissolved. Parts are split
// into groups whose boxes touch, directly or through others; groups are
// unioned each by itself by up to so many workers at once (under 1 counts as 1),
// with the same bytes for any number. Near linear in the vertices when groups
// are small. Parts must be valid, see MakeValid.
func Union(parts []orb.MultiPolygon, workers int) orb.MultiPolygon {
	groups := groupByBox(splitPolygons(parts))
	results := make([]orb.MultiPolygon, len(groups))
	each(len(groups), workers, func(i int) { results[i] = unionGroup(groups[i]) })
	return normalize(slices.Concat(results...))
}

// Gather returns the polygons of parts that are known to lie apart, in normal
// form, without looking for where they meet: what Union makes of them, at the
// cost of putting them in order.
func Gather(parts []orb.MultiPolygon) orb.MultiPolygon {
	return normalize(slices.Concat(parts...))
}

// splitPolygons returns the polygons of all parts, each with an area, in
// normal order so that the result does not hang on the order given.
func splitPolygons(parts []orb.MultiPolygon) []orb.Polygon {
	var out []orb.Polygon
	for _, mp := range parts {
		out = append(out, normalize(mp.Clone())...)
	}
	slices.SortFunc(out, func(a, b orb.Polygon) int { return compareRings(a[0], b[0]) })
	return out
}

// groupByBox splits polygons into classes connected by touching boxes, in the
// order of each class's first member.
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

// fewDissolved is how many polygons the library dissolves at once. Our choice: it
// looks up every outline that meets no other among all of one height, which takes the
// square of their number along a river.
const fewDissolved = 256

// unionGroup dissolves polygons whose boxes hang together, in normal order: many of
// them half by half, so that only outlines on both sides of a cut are looked at twice.
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

// joinHalves is the union of two areas: polygons that lie apart from all of the other
// are kept as they are.
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

// each calls do with 0..n-1, from up to so many workers at once.
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
	_ = tasks.Wait() // none fails
}

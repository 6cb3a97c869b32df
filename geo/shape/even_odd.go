package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"
)

// mostCoarsenings limits how coarse the grain may become for a ring whose faces rounding makes
// inconsistent. Our choice: from 1e-11 to 1e-7 of its size.
const mostCoarsenings = 4

// evenOddArea returns the inside of r by the even-odd rule: the places it runs around an odd number
// of times. A valid r is returned as it is. Otherwise its edges are cut where they cross, edges
// that occur an even number of times in one place drop out, and the outlines of the remaining faces
// are followed. n log n in vertices and crossings. Empty if rounding makes every try inconsistent,
// which we have not seen.
func evenOddArea(r orb.Ring) orb.MultiPolygon {
	if _, ok := toRing(r); !ok {
		return nil
	}
	closed := slices.Clone(r)
	if r[0] != r[len(r)-1] {
		closed = append(closed, r[0])
	}
	closed = slices.Compact(closed)
	if whole, ok := validNormal(orb.MultiPolygon{{slices.Clone(closed)}}); ok {
		return whole
	}
	grain := grainOf(closed)
	for range mostCoarsenings {
		if faces, ok := facesOf(noded(closed, grain)); ok {
			if exact, ok := validNormal(givenBack(faces, closed, grain)); ok {
				return exact
			}
			if faces, ok = validNormal(faces); ok {
				return faces
			}
		}
		grain *= 16
	}
	return nil
}

// facesOf returns the polygons inside noded edges; false when rounding makes them inconsistent.
func facesOf(all []border) (orb.MultiPolygon, bool) {
	h := newHalfEdges(all)
	if !h.turn() {
		return nil, false
	}
	var rings []orb.Ring
	used := make([]bool, len(all))
	for i := range all {
		if used[i] {
			continue
		}
		rings = append(rings, simpleRings(h.loop(int32(i), used))...)
	}
	return nestByTurn(rings)
}

// simpleRings cuts a loop at every place it passes twice.
func simpleRings(loop []orb.Point) []orb.Ring {
	var rings []orb.Ring
	place := make(map[orb.Point]int, len(loop))
	way := make([]orb.Point, 0, len(loop)+1)
	for _, p := range append(loop, loop[0]) {
		at, seen := place[p]
		if !seen {
			place[p] = len(way)
			way = append(way, p)
			continue
		}
		rings = append(rings, append(slices.Clone(way[at:]), p))
		for _, q := range way[at+1:] {
			delete(place, q)
		}
		way = way[:at+1]
	}
	return rings
}

// nestByTurn is nest of rings in any order: those that turn left are exteriors, those that turn right
// holes; those without area are left out.
func nestByTurn(rings []orb.Ring) (orb.MultiPolygon, bool) {
	var outer, holes []orb.Ring
	for _, ring := range rings {
		if area := signedArea(ring); area > 0 {
			outer = append(outer, ring)
		} else if area < 0 {
			holes = append(holes, ring)
		}
	}
	return nest(outer, holes)
}

// nest puts every hole into the smallest outer ring around it; false when there is no such ring.
func nest(outer, holes []orb.Ring) (orb.MultiPolygon, bool) {
	faces := make(orb.MultiPolygon, len(outer))
	fringes, areas := make([]fringe, len(outer)), make([]float64, len(outer))
	var tree rtree.RTreeGN[float64, int]
	for i, r := range outer {
		faces[i] = orb.Polygon{r}
		if len(holes) > 0 {
			fringes[i], areas[i] = fringe{r, runBoxes(r)}, signedArea(r)
		}
		box := r.Bound()
		tree.Insert(box.Min, box.Max, i)
	}
	for _, hole := range holes {
		p := amidLongest(hole)
		least, home := math.Inf(1), -1
		tree.Search(p, p, func(_, _ [2]float64, i int) bool {
			if areas[i] < least {
				if in, _ := fringes[i].contains(p); in {
					least, home = areas[i], i
				}
			}
			return true
		})
		if home < 0 {
			return nil, false
		}
		faces[home] = append(faces[home], hole)
	}
	return faces, true
}

// amidLongest returns the middle of the longest edge of r, farthest from where other rings touch.
func amidLongest(r orb.Ring) orb.Point {
	longest, middle := -1.0, r[0]
	for i := 0; i+1 < len(r); i++ {
		if length := apart(r[i], r[i+1]); length > longest {
			longest, middle = length, orb.Point{(r[i][0] + r[i+1][0]) / 2, (r[i][1] + r[i+1][1]) / 2}
		}
	}
	return middle
}

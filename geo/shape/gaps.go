package shape

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"driftreach/geo"
	"driftreach/geo/disjoint"
)

// Gap is ground enclosed by areas of a set and not contained in any of them.
type Gap struct {
	Beside int32 // index of the first area that borders on it; for areas that overlap, the first of the overlapping group
	Ground orb.Polygon
}

// Gaps returns the gaps of a set of valid areas, in the order of their ground. Ground open to the
// outside is not a gap. Coordinates may be of any plane, degrees too.
//
// Edges that two neighbours share, one in each direction, drop out. Of a clean set only the outline
// and the gaps remain; other edges are cut where they cross. Areas that overlap are united first.
// The remaining edges have their area on the left. They are closed into loops that may touch but
// never cross; a clockwise loop surrounds a gap. n log n in vertices.
func Gaps(areas []orb.MultiPolygon) []Gap {
	areas = united(areas)
	w := newBorders(areas)
	var tree rtree.RTreeGN[float64, int32]
	for i, area := range areas {
		if len(area) > 0 {
			box := area.Bound()
			tree.Insert(box.Min, box.Max, int32(i))
		}
	}
	var out []Gap
	for {
		loop, beside := w.loop()
		if loop == nil {
			break
		}
		if signedArea(loop) >= 0 {
			continue // an outline, or ground in more than one area
		}
		ground, _ := MakeValid(orb.MultiPolygon{{loop}})
		for _, piece := range ground {
			if empty(piece, areas, &tree) {
				out = append(out, Gap{beside, piece})
			}
		}
	}
	slices.SortFunc(out, func(a, b Gap) int { return compareRings(a.Ground[0], b.Ground[0]) })
	return out
}

// sharedShare is the share of the smaller of two areas' boxes above which common ground is an
// overlap. Our choice: far below what anybody draws, far above rounding.
const sharedShare = 1e-9

// united replaces the first area of each overlapping group by the union of the group, and the
// others by nothing: borders inside the union surround no gap.
func united(areas []orb.MultiPolygon) []orb.MultiPolygon {
	sets := disjoint.NewSets(len(areas))
	overlap := false
	eachMeeting(areas, func(k, i int32) bool {
		least := sharedShare * min(boxArea(areas[k].Bound()), boxArea(areas[i].Bound()))
		if sets.Find(k) != sets.Find(i) && float64(IntersectionArea(areas[k], areas[i])) > least {
			overlap = sets.Union(k, i)
		}
		return true
	})
	if !overlap {
		return areas
	}
	groups := map[int32][]orb.MultiPolygon{} // by the group's first area
	for i, area := range areas {
		g := sets.Find(int32(i))
		groups[g] = append(groups[g], area)
	}
	out := make([]orb.MultiPolygon, len(areas))
	for g, group := range groups {
		if out[g] = group[0]; len(group) > 1 {
			out[g] = Union(group, 1)
		}
	}
	return out
}

func boxArea(b orb.Bound) float64 { return (b.Max[0] - b.Min[0]) * (b.Max[1] - b.Min[1]) }

// empty says whether less than half of a piece of ground is in any area, and whether the piece is
// more than rounding.
func empty(piece orb.Polygon, areas []orb.MultiPolygon, tree *rtree.RTreeGN[float64, int32]) bool {
	mp := orb.MultiPolygon{piece}
	box, size := piece.Bound(), geo.PolygonArea(mp)
	held := geo.SquareMeters(0)
	tree.Search(box.Min, box.Max, func(_, _ [2]float64, i int32) bool {
		held += IntersectionArea(mp, areas[i])
		return true
	})
	// slivers from vertices that only one neighbour has
	rounding := 1e-12 * (box.Max[0] - box.Min[0]) * (box.Max[1] - box.Min[1])
	return held < size/2 && float64(size) > rounding
}

// borders is a set of borders, found by their starts.
type borders struct {
	all    []border
	onward []int32 // by border: the border that continues from its end
	next   int     // the first border that may be unused
}

func newBorders(areas []orb.MultiPolygon) *borders {
	once := withoutCopies(areas)
	n := 0
	for _, i := range once {
		for _, polygon := range areas[i] {
			for _, ring := range polygon {
				n += len(ring)
			}
		}
	}
	all := make([]border, 0, n)
	for _, i := range once {
		for _, polygon := range areas[i] {
			for k, ring := range polygon {
				all = appendBorders(all, ring, (signedArea(ring) > 0) == (k == 0), i)
			}
		}
	}
	all = withoutShared(all)
	all = withoutShared(split(all, 0)) // for vertices that only one neighbour has
	slices.SortFunc(all, compareBorders)
	return &borders{all: all, onward: pairUp(all)}
}

// withoutCopies returns the indices of the areas, leaving out copies of earlier areas, which
// enclose nothing more.
func withoutCopies(areas []orb.MultiPolygon) []int32 {
	order := make([]int32, len(areas))
	for i := range order {
		order[i] = int32(i)
	}
	content := func(a, b int32) int {
		return slices.CompareFunc(areas[a], areas[b], func(p, q orb.Polygon) int { return slices.CompareFunc(p, q, compareRings) })
	}
	slices.SortFunc(order, func(a, b int32) int { return cmp.Or(content(a, b), cmp.Compare(a, b)) })
	order = slices.CompactFunc(order, func(a, b int32) bool { return content(a, b) == 0 })
	slices.Sort(order)
	return order
}

// loop returns the next closed loop and the first area on it; nil when there are no more.
func (w *borders) loop() (orb.Ring, int32) {
	for w.next < len(w.all) && w.all[w.next].used {
		w.next++
	}
	if w.next == len(w.all) {
		return nil, 0
	}
	at := int32(w.next)
	ring, beside := orb.Ring{w.all[at].from}, w.all[at].area
	for !w.all[at].used {
		b := &w.all[at]
		b.used = true
		ring, beside = append(ring, b.to), min(beside, b.area)
		at = w.onward[at]
	}
	return ring, beside
}

// pairUp gives for every border the one that continues from its end. Going counter-clockwise around
// a corner, each border that leaves takes the last one before it that arrived, so that loops may
// touch but never cross.
func pairUp(all []border) []int32 {
	half := halfEdgesOf(all)
	onward := make([]int32, len(all))
	for first := 0; first < len(half); {
		last := first
		for last < len(half) && half[last].corner == half[first].corner {
			last++
		}
		var arrived []int32
		taken := make([]bool, last-first)
		for k := range 2 * (last - first) { // twice around
			at := k % (last - first)
			s := half[first+at]
			switch {
			case taken[at]:
			case !s.leaves:
				taken[at], arrived = true, append(arrived, s.border)
			case len(arrived) > 0:
				taken[at] = true
				onward[arrived[len(arrived)-1]] = s.border
				arrived = arrived[:len(arrived)-1]
			}
		}
		first = last
	}
	return onward
}

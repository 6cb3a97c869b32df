package shape

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"driftreach/geo"
)

// Gap is ground that areas of a set enclose and none of them holds.
type Gap struct {
	Beside int32 // index of the first area that borders on it
	Ground orb.Polygon
}

// Gaps returns the gaps of a set of valid areas, in the order of their ground. A
// gap that is open to the outside is none. Coordinates are of any plane, degrees
// too.
//
// Edges that two neighbours have in common, one each way, drop out, so that of a
// clean set only its outline and its gaps are left; the rest is cut where it
// crosses. What is left runs with its area
// on the left; loops are closed so that they touch and never cross, and one that
// runs clockwise goes round a gap. n log n in vertices.
func Gaps(areas []orb.MultiPolygon) []Gap {
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
			continue // an outline, or ground that more than one area holds
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

// empty says whether a piece of ground is held by areas to less than half, and is
// more than rounding.
func empty(piece orb.Polygon, areas []orb.MultiPolygon, tree *rtree.RTreeGN[float64, int32]) bool {
	mp := orb.MultiPolygon{piece}
	box, size := piece.Bound(), geo.PolygonArea(mp)
	held := geo.SquareMeters(0)
	tree.Search(box.Min, box.Max, func(_, _ [2]float64, i int32) bool {
		held += IntersectionArea(mp, areas[i])
		return true
	})
	// what corners that were not given to a neighbour too leave between them
	rounding := 1e-12 * (box.Max[0] - box.Min[0]) * (box.Max[1] - box.Min[1])
	return held < size/2 && float64(size) > rounding
}

// border is an edge of one area that no neighbour has the other way.
type border struct {
	from, to orb.Point
	area     int32
	used     bool
}

// borders is a set of borders by where they begin.
type borders struct {
	all    []border
	onward []int32 // by border: the one that goes on where it ends
	next   int     // the first that may be unused
}

func newBorders(areas []orb.MultiPolygon) *borders {
	var all []border
	for _, i := range withoutCopies(areas) {
		for _, polygon := range areas[i] {
			for k, ring := range polygon {
				all = appendBorders(all, ring, (signedArea(ring) > 0) == (k == 0), i)
			}
		}
	}
	all = withoutShared(all)
	all = withoutShared(split(all)) // where corners were given to one neighbour alone
	slices.SortFunc(all, func(a, b border) int {
		return cmp.Or(comparePoints(a.from, b.from), comparePoints(a.to, b.to), cmp.Compare(a.area, b.area))
	})
	return &borders{all: all, onward: pairUp(all)}
}

// withoutCopies returns the indices of the areas without copies of earlier ones, which
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

// withoutShared drops edges that are there both ways, as often as they are.
func withoutShared(all []border) []border {
	low := func(b *border) (orb.Point, orb.Point) {
		if comparePoints(b.from, b.to) <= 0 {
			return b.from, b.to
		}
		return b.to, b.from
	}
	slices.SortFunc(all, func(a, b border) int {
		p, q := low(&a)
		r, s := low(&b)
		return cmp.Or(comparePoints(p, r), comparePoints(q, s), comparePoints(a.from, b.from), cmp.Compare(a.area, b.area))
	})
	var kept []border
	for first := 0; first < len(all); {
		last, forth := first, 0
		p, q := low(&all[first])
		for ; last < len(all); last++ {
			if r, s := low(&all[last]); r != p || s != q {
				break
			}
			if all[last].from == p {
				forth++
			}
		}
		back := last - first - forth
		// those that run one way come first
		kept = append(kept, all[first:first+max(0, forth-back)]...)
		kept = append(kept, all[last-max(0, back-forth):last]...)
		first = last
	}
	return kept
}

// split cuts borders where they cross and where one ends on another.
func split(all []border) []border {
	var tree rtree.RTreeGN[float64, int32]
	box := func(b *border) orb.Bound { return orb.MultiPoint{b.from, b.to}.Bound() }
	for i := range all {
		at := box(&all[i])
		tree.Insert(at.Min, at.Max, int32(i))
	}
	var out []border
	for i := range all {
		b := &all[i]
		var cuts []orb.Point
		at := box(b)
		tree.Search(at.Min, at.Max, func(_, _ [2]float64, k int32) bool {
			if int(k) != i {
				cuts = cutsOf(cuts, b, &all[k], int(k) < i)
			}
			return true
		})
		slices.SortFunc(cuts, func(p, q orb.Point) int {
			return cmp.Or(cmp.Compare(geo.Distance(b.from, p), geo.Distance(b.from, q)), comparePoints(p, q))
		})
		from := b.from
		for _, p := range append(cuts, b.to) {
			if p != from {
				out = append(out, border{from: from, to: p, area: b.area})
				from = p
			}
		}
	}
	return out
}

// cutsOf appends where b is to be cut for the sake of other: at an end of it
// that lies on b, else where they cross. Both get the same place, since it is
// worked out from the earlier of the two.
func cutsOf(cuts []orb.Point, b, other *border, later bool) []orb.Point {
	touches := false
	for _, pair := range []struct {
		p orb.Point
		s *border
	}{{other.from, b}, {other.to, b}, {b.from, other}, {b.to, other}} {
		d, t := geo.SegmentDistance(pair.p, pair.s.from, pair.s.to)
		// rounding of coordinates of this size
		if float64(d) > 1e-14*(1+math.Abs(pair.p[0])+math.Abs(pair.p[1])) {
			continue
		}
		touches = true
		if pair.s == b && t > 0 && t < 1 {
			cuts = append(cuts, pair.p)
		}
	}
	if touches {
		return cuts
	}
	p, q := b, other
	if later {
		p, q = other, b
	}
	ux, uy, vx, vy := p.to[0]-p.from[0], p.to[1]-p.from[1], q.to[0]-q.from[0], q.to[1]-q.from[1]
	det := ux*vy - uy*vx
	wx, wy := q.from[0]-p.from[0], q.from[1]-p.from[1]
	s, t := (wx*vy-wy*vx)/det, (wx*uy-wy*ux)/det
	if det != 0 && s > 0 && s < 1 && t > 0 && t < 1 {
		cuts = append(cuts, orb.Point{p.from[0] + s*ux, p.from[1] + s*uy})
	}
	return cuts
}

// appendBorders appends the edges of a ring so that its area is on the left.
func appendBorders(all []border, ring orb.Ring, ahead bool, area int32) []border {
	for k := 0; k+1 < len(ring); k++ {
		p, q := ring[k], ring[k+1]
		if !ahead {
			p, q = q, p
		}
		if p != q {
			all = append(all, border{from: p, to: q, area: area})
		}
	}
	return all
}

// loop returns the next closed loop and the first area on it; nil when there are
// no more.
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

// spoke is one end of a border at a corner.
type spoke struct {
	corner orb.Point
	angle  float64
	leaves bool
	border int32
}

// pairUp says for every border which one goes on where it ends: counter-clockwise
// about a corner each that leaves takes the last before it that arrived, so that
// loops touch and never cross.
func pairUp(all []border) []int32 {
	spokes := make([]spoke, 0, 2*len(all))
	for i, b := range all {
		ahead := math.Atan2(b.to[1]-b.from[1], b.to[0]-b.from[0])
		back := math.Atan2(b.from[1]-b.to[1], b.from[0]-b.to[0])
		spokes = append(spokes, spoke{b.from, ahead, true, int32(i)}, spoke{b.to, back, false, int32(i)})
	}
	slices.SortFunc(spokes, func(a, b spoke) int {
		return cmp.Or(comparePoints(a.corner, b.corner), cmp.Compare(a.angle, b.angle), cmp.Compare(a.border, b.border))
	})
	onward := make([]int32, len(all))
	for first := 0; first < len(spokes); {
		last := first
		for last < len(spokes) && spokes[last].corner == spokes[first].corner {
			last++
		}
		var arrived []int32
		taken := make([]bool, last-first)
		for k := range 2 * (last - first) { // twice round
			at := k % (last - first)
			s := spokes[first+at]
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

package shape

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"driftreach/geo"
)

// border is an edge of an area or a ring.
type border struct {
	from, to orb.Point
	area     int32
	used     bool
}

// appendBorders appends the edges of a ring, directed so that its area is on the left.
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

// withoutShared drops edges that occur in both directions, each pair once. It reuses the slice.
func withoutShared(all []border) []border {
	low := func(b *border) (orb.Point, orb.Point) {
		if geo.ComparePoints(b.from, b.to) <= 0 {
			return b.from, b.to
		}
		return b.to, b.from
	}
	slices.SortFunc(all, func(a, b border) int {
		p, q := low(&a)
		r, s := low(&b)
		if c := geo.ComparePoints(p, r); c != 0 {
			return c
		}
		return cmp.Or(geo.ComparePoints(q, s), geo.ComparePoints(a.from, b.from), cmp.Compare(a.area, b.area))
	})
	kept := all[:0]
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
		// edges in one direction come first
		kept = append(kept, all[first:first+max(0, forth-back)]...)
		kept = append(kept, all[last-max(0, back-forth):last]...)
		first = last
	}
	return kept
}

func (b *border) box() orb.Bound { return orb.MultiPoint{b.from, b.to}.Bound() }

// byBox returns the indices of borders by their boxes.
func byBox(all []border) *rtree.RTreeGN[float64, int32] {
	var tree rtree.RTreeGN[float64, int32]
	for i := range all {
		at := all[i].box()
		tree.Insert(at.Min, at.Max, int32(i))
	}
	return &tree
}

// split cuts borders where they cross and where one ends on another.
func split(all []border, grain float64) []border {
	tree := byBox(all)
	var out []border
	for i := range all {
		b := &all[i]
		var cuts []orb.Point
		at := b.box().Pad(grain)
		tree.Search(at.Min, at.Max, func(_, _ [2]float64, k int32) bool {
			if int(k) != i {
				cuts = cutsOf(cuts, b, &all[k], int(k) < i, grain)
			}
			return true
		})
		out = appendCut(out, *b, cuts)
	}
	return out
}

// appendCut appends b cut at places on it.
func appendCut(out []border, b border, cuts []orb.Point) []border {
	slices.SortFunc(cuts, func(p, q orb.Point) int {
		return cmp.Or(cmp.Compare(geo.Distance(b.from, p), geo.Distance(b.from, q)), geo.ComparePoints(p, q))
	})
	from := b.from
	for _, p := range append(cuts, b.to) {
		if p != from {
			out = append(out, border{from: from, to: p, area: b.area})
			from = p
		}
	}
	return out
}

// cutsOf appends where b is to be cut for the sake of other: at an end of it
// that lies on b, else where they cross. Both get the same place, since it is
// worked out from the earlier of the two.
func cutsOf(cuts []orb.Point, b, other *border, later bool, grain float64) []orb.Point {
	touches := false
	for _, pair := range []struct {
		p orb.Point
		s *border
	}{{other.from, b}, {other.to, b}, {b.from, other}, {b.to, other}} {
		d, t := geo.SegmentDistance(pair.p, pair.s.from, pair.s.to)
		// rounding of coordinates of this size
		if float64(d) > max(grain, 1e-14*(1+math.Abs(pair.p[0])+math.Abs(pair.p[1]))) {
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
		cuts = append(cuts, rounded(orb.Point{p.from[0] + s*ux, p.from[1] + s*uy}, grain))
	}
	return cuts
}

// halfEdge is one end of a border at a corner.
type halfEdge struct {
	corner orb.Point
	angle  float64
	leaves bool
	border int32
}

// rounded returns the place nearest to p whose coordinates are multiples of grain; p itself when
// grain is 0.
func rounded(p orb.Point, grain float64) orb.Point {
	if grain == 0 {
		return p
	}
	return orb.Point{math.Round(p[0]/grain) * grain, math.Round(p[1]/grain) * grain}
}

// halfEdgesOf returns both ends of every border, sorted by corner and then counter-clockwise.
func halfEdgesOf(all []border) []halfEdge {
	half := make([]halfEdge, 0, 2*len(all))
	for i, b := range all {
		ahead := math.Atan2(b.to[1]-b.from[1], b.to[0]-b.from[0])
		back := math.Atan2(b.from[1]-b.to[1], b.from[0]-b.to[0])
		half = append(half, halfEdge{b.from, ahead, true, int32(i)}, halfEdge{b.to, back, false, int32(i)})
	}
	slices.SortFunc(half, func(a, b halfEdge) int {
		return cmp.Or(geo.ComparePoints(a.corner, b.corner), cmp.Compare(a.angle, b.angle), cmp.Compare(a.border, b.border))
	})
	return half
}

func compareBorders(a, b border) int {
	return cmp.Or(geo.ComparePoints(a.from, b.from), geo.ComparePoints(a.to, b.to), cmp.Compare(a.area, b.area))
}

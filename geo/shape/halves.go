package shape

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
)

// Halves cuts a valid polygon along a line across an axis, and returns the parts below and above it. Parts
// that only touch at the line are apart. The cut is followed from one crossing of the outline to the next,
// so that nothing is made that must be mended: n log n in vertices.
func Halves(polygon orb.Polygon, axis int, at float64) [2]orb.MultiPolygon {
	var out [2]orb.MultiPolygon
	for i, sign := range [2]float64{1, -1} {
		part, ok := halfOf(polygon, axis, at, sign)
		if !ok {
			half := polygon.Bound()
			if i == 0 {
				half.Max[axis] = at
			} else {
				half.Min[axis] = at
			}
			part, _ = MakeValid(Clip(orb.MultiPolygon{polygon}, half))
		}
		out[i] = part
	}
	return out
}

// halfOf returns the part of a polygon whose coordinate, times sign, is not above at times sign; false
// where rounding leaves it invalid.
func halfOf(polygon orb.Polygon, axis int, at, sign float64) (orb.MultiPolygon, bool) {
	c := cut{axis: axis, at: at, sign: sign}
	for k, ring := range polygon {
		if (signedArea(ring) > 0) != (k == 0) {
			ring = slices.Clone(ring)
			slices.Reverse(ring)
		}
		c.add(ring)
	}
	loops, ok := c.loops()
	if !ok {
		return nil, false
	}
	rings := c.whole
	for _, loop := range loops {
		rings = append(rings, simpleRings(loop)...)
	}
	out, ok := nestByTurn(rings)
	if !ok {
		return nil, false
	}
	out = normalize(out.Clone())
	return out, len(out) == 0 || validUnlessNear(out, roundingOf(exteriorBox(out)))
}

// cut is one side of a line across an axis: the rings wholly on it, and the pieces of the others, each
// from where it leaves the line to where it arrives there again.
type cut struct {
	axis     int
	at, sign float64
	whole    []orb.Ring
	pieces   [][]orb.Point
}

// off returns how far a place lies on this side of the line.
func (c *cut) off(p orb.Point) float64 { return c.sign * (c.at - p[c.axis]) }

// add adds a closed ring, which has its area on the left.
func (c *cut) add(ring orb.Ring) {
	first := slices.IndexFunc(ring, func(p orb.Point) bool { return c.off(p) <= 0 })
	if first < 0 {
		c.whole = append(c.whole, ring)
		return
	}
	var piece []orb.Point
	n := len(ring) - 1
	for k := range n {
		a, b := ring[(first+k)%n], ring[(first+k+1)%n]
		if c.off(a) <= 0 {
			if c.off(b) <= 0 {
				continue
			}
			piece = append(piece, c.crossing(a, b))
		}
		if c.off(b) > 0 {
			piece = append(piece, b)
			continue
		}
		c.pieces = append(c.pieces, append(piece, c.crossing(a, b)))
		piece = nil
	}
}

// crossing returns where ab meets the line, which it does.
func (c *cut) crossing(a, b orb.Point) orb.Point {
	for _, p := range [2]orb.Point{a, b} {
		if p[c.axis] == c.at {
			return p
		}
	}
	i, k := c.axis, 1-c.axis
	p := orb.Point{c.at, c.at}
	p[k] = a[k] + (b[k]-a[k])*(c.at-a[i])/(b[i]-a[i])
	return p
}

// stopAt is an end of a piece on the line.
type stopAt struct {
	along   float64 // with the area on the left
	piece   int32
	arrives bool
}

// loops links the pieces along the line: from where one arrives to where the next leaves. False where
// rounding has put ends in another order.
func (c *cut) loops() ([][]orb.Point, bool) {
	ahead := c.sign
	if c.axis == 1 {
		ahead = -ahead
	}
	stops := make([]stopAt, 0, 2*len(c.pieces))
	for i, piece := range c.pieces {
		stops = append(stops, stopAt{ahead * piece[0][1-c.axis], int32(i), false},
			stopAt{ahead * piece[len(piece)-1][1-c.axis], int32(i), true})
	}
	slices.SortFunc(stops, func(a, b stopAt) int { return cmp.Or(cmp.Compare(a.along, b.along), cmp.Compare(a.piece, b.piece)) })
	next := make([]int32, len(c.pieces))
	open := int32(-1) // the piece that arrived last, and was not linked yet
	for len(stops) > 0 {
		// of ends in one place, the one that may come next
		k := 0
		for k < len(stops) && stops[k].along == stops[0].along && stops[k].arrives != (open < 0) {
			k++
		}
		if k == len(stops) || stops[k].along != stops[0].along {
			return nil, false
		}
		if stops[k].arrives {
			open = stops[k].piece
		} else {
			next[open], open = stops[k].piece, -1
		}
		stops[0], stops[k] = stops[k], stops[0]
		stops = stops[1:]
	}
	var loops [][]orb.Point
	used := make([]bool, len(next))
	for i := range next {
		var loop []orb.Point
		for k := int32(i); !used[k]; k = next[k] {
			used[k] = true
			loop = append(loop, c.pieces[k]...)
		}
		if loop = slices.Compact(loop); len(loop) > 1 && loop[0] == loop[len(loop)-1] {
			loop = loop[:len(loop)-1]
		}
		if len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops, open < 0
}

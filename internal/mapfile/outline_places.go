package mapfile

import (
	"iter"
	"math"
	"slices"

	"github.com/paulmach/orb"

	areas "driftreach/geo/shape"
)

// outline is an area in compressed form.
type outline interface {
	Rings() iter.Seq2[bool, orb.Ring]
	Polygons() orb.MultiPolygon
}

// anyVertices is the limit for polygons that may have any number of vertices.
const anyVertices = math.MaxInt

// mostRoom is the largest number of places whose room is kept for the next outline. Our choice: 256 KiB,
// more than almost any stand needs.
const mostRoom = 1 << 14

// unpacker unpacks outlines as they are written, each in the memory of the one before.
type unpacker struct {
	places   []place
	rings    [][]place
	polygons [][][]place
}

// unpack returns the same as polygons does for the outline's polygons. Those with more than most vertices
// are cut first. The answer is valid until the next call.
func (u *unpacker) unpack(o outline, most int) [][][]place {
	if cap(u.places) > mostRoom {
		u.places = nil
	}
	u.places, u.rings, u.polygons = u.places[:0], u.rings[:0], u.polygons[:0]
	first, count := 0, 0 // the polygon's first ring in u.rings, and its vertices
	for outer, r := range o.Rings() {
		if outer {
			u.endPolygon(first)
			first, count = len(u.rings), 0
		}
		if count += len(r); count > most || outer && past(r) {
			return polygons(parted(o.Polygons(), most))
		}
		if !outer && first == len(u.rings) {
			continue // nothing is left of the outer ring
		}
		if ring := ringIn(u.room(len(r)+1), r, outer); ring != nil {
			u.rings = append(u.rings, ring)
		}
	}
	u.endPolygon(first)
	return u.polygons
}

// endPolygon adds the polygon of the rings from first on, if there are any.
func (u *unpacker) endPolygon(first int) {
	if n := len(u.rings); first < n {
		u.polygons = append(u.polygons, u.rings[first:n:n])
	}
}

// room returns room for n places.
func (u *unpacker) room(n int) []place {
	if cap(u.places)-len(u.places) < n {
		u.places = make([]place, 0, max(n, min(2*cap(u.places), mostRoom)))
	}
	from := len(u.places)
	u.places = u.places[:from+n]
	return u.places[from : from+n : from+n]
}

// count is each that tells with a polygon its number, from 0, and whether there are several. It returns
// how many there are.
func (u *unpacker) count(o outline, most int, do func(rings [][]place, at int, several bool)) (n int) {
	var first [][]place
	u.each(o, most, func(rings [][]place) {
		switch n++; n {
		case 1: // whether it is one of several shows with the next
			for _, ring := range rings {
				first = append(first, slices.Clone(ring))
			}
			return
		case 2:
			do(first, 0, true)
		}
		do(rings, n-1, true)
	})
	if n == 1 {
		do(first, 0, false)
	}
	return n
}

// each calls do with every polygon that unpack returns, one after the other, so that a large area need not
// be in memory: the zone of all unnamed streams is one. A polygon is valid until do returns.
func (u *unpacker) each(o outline, most int, do func(rings [][]place)) {
	some := func(o outline) {
		for _, rings := range u.unpack(o, most) {
			do(rings)
		}
	}
	for outer, r := range o.Rings() {
		if outer && past(r) { // an area across the antimeridian is cut as a whole
			some(o)
			return
		}
	}
	var one onePolygon
	var points []orb.Point
	for outer, r := range o.Rings() {
		if outer && len(one) > 0 {
			some(one)
			one, points = one[:0], points[:0]
		}
		from := len(points)
		points = append(points, r...)
		one = append(one, points[from:len(points):len(points)])
	}
	if len(one) > 0 {
		some(one)
	}
}

// onePolygon is an outline of one polygon.
type onePolygon orb.Polygon

// Rings returns its rings.
func (p onePolygon) Rings() iter.Seq2[bool, orb.Ring] { return areas.Rings(p.Polygons()) }

// Polygons returns it.
func (p onePolygon) Polygons() orb.MultiPolygon { return orb.MultiPolygon{orb.Polygon(p)} }

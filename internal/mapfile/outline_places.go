package mapfile

import (
	"iter"
	"math"

	"github.com/paulmach/orb"
)

// outline is an area in compressed form.
type outline interface {
	Rings() iter.Seq2[bool, orb.Ring]
	Polygons() orb.MultiPolygon
}

// anyVertices is the limit for polygons that may have any number of vertices.
const anyVertices = math.MaxInt

// unpacker unpacks outlines as they are written, each in the memory of the one before.
type unpacker struct {
	places   []place
	rings    [][]place
	polygons [][][]place
}

// unpack returns the same as polygons does for the outline's polygons. Those with more than most vertices
// are cut first. The answer is valid until the next call.
func (u *unpacker) unpack(o outline, most int) [][][]place {
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
		u.places = make([]place, 0, max(n, 2*cap(u.places)))
	}
	from := len(u.places)
	u.places = u.places[:from+n]
	return u.places[from : from+n : from+n]
}

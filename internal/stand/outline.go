package stand

import (
	"math"

	"github.com/paulmach/orb"
)

// Outline is a footprint packed for keeping: a batch may hold tens of millions
// of vertices. Places are whole 1e-8 degrees (a millimetre) from an origin, in
// half the memory of float64 pairs.
type Outline struct {
	origin orb.Point
	unit   float64    // steps in a degree
	offset [][2]int32 // every vertex, ring after ring, the closing one left out
	rings  []int32    // by ring: how many of them
	holes  []int32    // by polygon: how many rings it has, its exterior included
}

const (
	perDegree     = 1e8
	perWideDegree = 1e7
	// what an int32 of the finer steps holds: larger than stands are, but points in
	// a chain may string one along a coast
	farthest = math.MaxInt32 / perDegree
)

// Pack returns the outline of closed rings in degrees. Vertices that fall together with the one before
// are left out, and so are rings of fewer than three.
func Pack(mp orb.MultiPolygon) Outline {
	var o Outline
	if len(mp) == 0 {
		return o
	}
	o.origin, o.unit = mp[0][0][0], perDegree
	n := 0
	for _, polygon := range mp {
		for _, ring := range polygon {
			n += len(ring)
			for _, p := range ring {
				if max(math.Abs(p[0]-o.origin[0]), math.Abs(p[1]-o.origin[1])) > farthest {
					o.unit = perWideDegree
				}
			}
		}
	}
	o.offset = make([][2]int32, 0, n)
	for _, polygon := range mp {
		rings := len(o.rings)
		for i, ring := range polygon {
			if !o.add(ring) && i == 0 {
				break
			}
		}
		if added := len(o.rings) - rings; added > 0 {
			o.holes = append(o.holes, int32(added))
		}
	}
	return o
}

// add packs one ring and reports whether anything of it was left.
func (o *Outline) add(ring orb.Ring) bool {
	first := len(o.offset)
	for _, p := range ring[:len(ring)-1] {
		at := [2]int32{o.steps(p[0] - o.origin[0]), o.steps(p[1] - o.origin[1])}
		if n := len(o.offset); n == first || o.offset[n-1] != at {
			o.offset = append(o.offset, at)
		}
	}
	n := len(o.offset) - first
	if n > 1 && o.offset[first] == o.offset[len(o.offset)-1] {
		o.offset = o.offset[:len(o.offset)-1]
		n--
	}
	if n < 3 {
		o.offset = o.offset[:first]
		return false
	}
	o.rings = append(o.rings, int32(n))
	return true
}

// steps fits for 214 degrees at least.
func (o *Outline) steps(degrees float64) int32 { return int32(math.Round(degrees * o.unit)) }

// Polygons unpacks the outline: closed rings in degrees, within half a
// step of those packed.
func (o Outline) Polygons() orb.MultiPolygon {
	out := make(orb.MultiPolygon, 0, len(o.holes))
	rings, offset := o.rings, o.offset
	for _, n := range o.holes {
		polygon := make(orb.Polygon, 0, n)
		for _, vertices := range rings[:n] {
			ring := make(orb.Ring, 0, vertices+1)
			for _, at := range offset[:vertices] {
				ring = append(ring, o.place(at))
			}
			polygon = append(polygon, append(ring, ring[0]))
			offset = offset[vertices:]
		}
		out = append(out, polygon)
		rings = rings[n:]
	}
	return out
}

// Bound returns the box of the outline in degrees, without unpacking it; an
// empty box about 0, 0 for nothing.
func (o Outline) Bound() orb.Bound {
	if len(o.offset) == 0 {
		return orb.Bound{}
	}
	low, high := o.offset[0], o.offset[0]
	for _, at := range o.offset[1:] {
		low[0], low[1] = min(low[0], at[0]), min(low[1], at[1])
		high[0], high[1] = max(high[0], at[0]), max(high[1], at[1])
	}
	return orb.Bound{Min: o.place(low), Max: o.place(high)}
}

// place returns a vertex in degrees.
func (o Outline) place(at [2]int32) orb.Point {
	return orb.Point{o.origin[0] + float64(at[0])/o.unit, o.origin[1] + float64(at[1])/o.unit}
}

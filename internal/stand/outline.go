package stand

import (
	"iter"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/shape"
)

// Outline is a footprint in compressed form: a batch may hold tens of millions of vertices.
// Positions are whole steps of 1e-8 degrees (a millimetre) from an origin.
type Outline struct {
	origin orb.Point
	packed shape.Packed
}

const perDegree = 1e8

// Pack returns the outline of closed rings in degrees. It leaves out vertices at the same step as
// the one before, and rings of fewer than three vertices.
func Pack(mp orb.MultiPolygon) Outline {
	if len(mp) == 0 {
		return Outline{}
	}
	origin := mp[0][0][0]
	return Outline{origin, shape.Pack(mp, func(p orb.Point) shape.Step {
		return shape.Step{int64(math.Round((p[0] - origin[0]) * perDegree)), int64(math.Round((p[1] - origin[1]) * perDegree))}
	})}
}

// Keep returns the same outline without its vertices in memory: put takes them and says where they are.
func (o Outline) Keep(put func(text []byte) (shape.Far, error)) (Outline, error) {
	packed, err := o.packed.Keep(put)
	return Outline{o.origin, packed}, err
}

// Polygons unpacks the outline: closed rings in degrees, within half a step of those packed.
func (o Outline) Polygons() orb.MultiPolygon { return o.packed.Polygons(o.place) }

// Rings unpacks it ring by ring: the outer ring of each polygon and then its holes. A ring is valid
// only until the next.
func (o Outline) Rings() iter.Seq2[bool, orb.Ring] { return o.packed.Rings(o.place) }

// Bound returns the box of the outline in degrees without unpacking it; an empty box at 0, 0 for an
// empty outline.
func (o Outline) Bound() orb.Bound {
	low, high := shape.Step{math.MaxInt64, math.MaxInt64}, shape.Step{math.MinInt64, math.MinInt64}
	o.packed.Each(func(_ bool, ring []shape.Step) {
		for _, at := range ring {
			low[0], low[1] = min(low[0], at[0]), min(low[1], at[1])
			high[0], high[1] = max(high[0], at[0]), max(high[1], at[1])
		}
	})
	if low[0] > high[0] {
		return orb.Bound{}
	}
	return orb.Bound{Min: o.place(low), Max: o.place(high)}
}

// place returns a vertex in degrees.
func (o Outline) place(at shape.Step) orb.Point {
	return orb.Point{o.origin[0] + float64(at[0])/perDegree, o.origin[1] + float64(at[1])/perDegree}
}

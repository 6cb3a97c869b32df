package shape

import (
	"bytes"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/disjoint"
)

// Parts are areas that are asked for one at a time, and more than once.
type Parts struct {
	Count int
	At    func(i int) orb.MultiPolygon // another copy each time
}

// PackApart returns what Gather, OnGridOfArea and PackOnSteps return one after the other for parts known
// to be apart, and their area before rounding. ringArea measures a ring in any unit. It holds only some
// parts at a time, besides the packed result and some 50 bytes for each 32 vertices. Each part is asked
// for some three times. Parts whose sides touch once they are rounded are mended, and held, together. Where
// all must be rounded together after all, it holds them all: where the last moves need vertices anywhere.
func PackApart(parts Parts, perUnit float64, ringArea func(orb.Ring) geo.SquareMeters) (OnSteps, geo.SquareMeters) {
	a := apartParts{parts: parts, perUnit: perUnit, last: -1}
	a.look(ringArea)
	if a.inOrder() && a.keepApart() {
		a.boxes, a.of = nil, nil
		if packed, ok := a.pack(); ok {
			return packed, a.area
		}
	}
	all := make([]orb.MultiPolygon, parts.Count)
	for i := range all {
		all[i] = parts.At(i)
	}
	whole := Gather(all)
	area := geo.SquareMeters(0)
	for outer, ring := range Rings(whole) {
		area = counted(area, ringArea(ring), outer)
	}
	return PackOnSteps(OnGridOfArea(whole, perUnit, float64(area), float64(area)), perUnit), area
}

// counted adds the area of a ring to a sum, or takes that of a hole off it.
func counted(sum, area geo.SquareMeters, outer bool) geo.SquareMeters {
	if outer {
		return sum + area
	}
	return sum - area
}

// apartParts rounds parts one after the other.
type apartParts struct {
	parts   Parts
	perUnit float64

	polygons []apartPolygon // of all parts, in normal order
	rings    []ringAreas    // of all parts
	sizes    []int          // by part: its vertices
	boxes    []orb.Bound    // on the grid, of some vertices each, grown by what makes sides crammed
	of       []int32        // by box: its part
	fixed    map[orb.Point]bool

	touching []int32               // parts with sides that touch once rounded, or near those
	mended   map[int32]orb.Polygon // by polygon of these: what is left of it on the grid; nil for nothing
	again    orb.MultiPolygon      // what the tangled ones among them became

	area         geo.SquareMeters // before rounding
	own, rounded float64          // in square units before rounding, and in square steps after it

	last  int // the part that was asked for last
	there orb.MultiPolygon
}

// apartPolygon is a polygon of a part.
type apartPolygon struct {
	first       orb.Point // its first vertex in normal form
	part, index int32
	rings       int32 // its first ring in rings
	holes       int32
}

// ringAreas are the areas of one ring: as measured; and as it counts in Area, before and after rounding.
type ringAreas struct {
	measured       geo.SquareMeters
	exact, rounded float64
}

// part returns a part in normal form. It must not be changed.
func (a *apartParts) part(i int) orb.MultiPolygon {
	if a.last != i {
		a.last, a.there = i, normalize(a.parts.At(i))
	}
	return a.there
}

// verticesInBox is how many sides are in one box. Our choice: boxes then take little room, and parts near
// each other seldom share one.
const verticesInBox = 32

// look measures the parts.
func (a *apartParts) look(ringArea func(orb.Ring) geo.SquareMeters) {
	for i := range a.parts.Count {
		mp := a.part(i)
		rounded := onSteps(mp, a.perUnit)
		a.sizes = append(a.sizes, vertices(mp))
		for k, polygon := range mp {
			a.polygons = append(a.polygons, apartPolygon{polygon[0][0], int32(i), int32(k), int32(len(a.rings)), int32(len(polygon) - 1)})
			for j, ring := range polygon {
				r := rounded[k][j]
				a.rings = append(a.rings, ringAreas{ringArea(ring), countedArea(ring, j == 0), countedArea(r, j == 0)})
				for from := 0; from+1 < len(r); from += verticesInBox {
					box := orb.LineString(r[from:min(len(r), from+verticesInBox+1)]).Bound()
					a.boxes, a.of = append(a.boxes, box.Pad(crammedWithin)), append(a.of, int32(i))
				}
			}
		}
	}
}

// inOrder sorts the polygons and adds up their areas in that order. It reports whether that is
// possible by their first vertices, and without asking for parts many times.
func (a *apartParts) inOrder() bool {
	slices.SortFunc(a.polygons, func(p, q apartPolygon) int { return geo.ComparePoints(p.first, q.first) })
	all, asked := 0, 0
	for _, n := range a.sizes {
		all += n
	}
	for i, p := range a.polygons {
		if i > 0 && a.polygons[i-1].first == p.first {
			return false
		}
		if i == 0 || a.polygons[i-1].part != p.part {
			asked += a.sizes[p.part]
		}
		for k, ring := range a.rings[p.rings : p.rings+1+p.holes] {
			a.area = counted(a.area, ring.measured, k == 0)
			a.own += ring.exact
			a.rounded += ring.rounded
		}
	}
	a.own = a.own * a.perUnit * a.perUnit
	return asked <= mostAsked*all && a.own > 0 && a.rounded > 0 && a.area > 0
}

// mostAsked is how many times as many vertices as there are may be asked for. Our choice: connected
// streams make a part of one polygon.
const mostAsked = 3

// keepApart finds the vertices that must not move, in parts that have sides near each other at one time,
// and mends those that touch. It reports whether ground is left.
func (a *apartParts) keepApart() bool {
	sets := disjoint.NewSets(a.parts.Count)
	for _, class := range Together(a.boxes) {
		for _, box := range class {
			sets.Union(a.of[class[0]], a.of[box])
		}
	}
	start, list := disjoint.Group(a.parts.Count, a.parts.Count, func(i int) int32 { return sets.Find(int32(i)) })
	a.fixed = make(map[orb.Point]bool)
	for root := range a.parts.Count {
		group := list[start[root]:start[root+1]]
		if len(group) == 0 {
			continue
		}
		var rounded orb.MultiPolygon
		for _, i := range group {
			rounded = append(rounded, onSteps(a.part(int(i)), a.perUnit)...)
		}
		corners, clear := crammed(rounded)
		if !clear {
			a.touching = append(a.touching, group...)
			continue
		}
		for at := range corners {
			a.fixed[at] = true
		}
	}
	return a.touching == nil || a.mend()
}

// mend does what unclear does, with the parts that touch alone: the others are clear, and not near them.
// It reports whether ground is left.
func (a *apartParts) mend() bool {
	touches := make([]bool, a.parts.Count)
	for _, i := range a.touching {
		touches[i] = true
	}
	var kept orb.MultiPolygon
	var of []int32 // their numbers
	a.mended = make(map[int32]orb.Polygon)
	for i, p := range a.polygons {
		if !touches[p.part] {
			continue
		}
		a.mended[int32(i)] = nil
		if left := despiked(onSteps(a.part(int(p.part))[p.index:p.index+1], a.perUnit)[0]); left != nil {
			kept, of = append(kept, left), append(of, int32(i))
		}
	}
	var tangled, left orb.MultiPolygon
	for k, is := range tangledOf(kept) {
		if is {
			tangled = append(tangled, kept[k])
		} else {
			a.mended[of[k]] = kept[k]
			left = append(left, kept[k])
		}
	}
	if len(tangled) > 0 {
		a.again = onGridAgain(tangled)
	}
	corners, _ := crammed(slices.Concat(left, a.again))
	for at := range corners {
		a.fixed[at] = true
	}
	a.rounded = 0
	count := func(p orb.Polygon) {
		for k, r := range p {
			a.rounded += countedArea(r, k == 0)
		}
	}
	for i, p := range a.polygons {
		if mended, is := a.mended[int32(i)]; is {
			count(mended)
			continue
		}
		for _, ring := range a.rings[p.rings : p.rings+1+p.holes] {
			a.rounded += ring.rounded
		}
	}
	for _, p := range a.again {
		count(p)
	}
	return a.rounded > 0
}

// pack rounds the polygons one after the other, moves vertices as adjustArea does, and packs them. It
// reports whether that was enough for the area, and whether what was mended is valid.
func (a *apartParts) pack() (OnSteps, bool) {
	all := make([]packedPolygon, 0, len(a.polygons))
	wanted := a.own*float64(a.area)/float64(a.area) - a.rounded
	add := func(rounded, exact orb.MultiPolygon) {
		if a.mended != nil {
			exact = nil // as OnGridOfArea has it
		}
		wanted = approach(movedRings(rounded, exact, a.perUnit), a.fixed, wanted)
		all = append(all, packedPolygon{normalize(rounded)[0][0][0], Pack(rounded, func(p orb.Point) Step { return Step{int64(p[0]), int64(p[1])} })})
	}
	var moved orb.MultiPolygon // of what was mended
	for i, p := range a.polygons {
		mended, is := a.mended[int32(i)]
		if !is {
			exact := a.part(int(p.part))[p.index : p.index+1]
			add(onSteps(exact, a.perUnit), exact)
		} else if mended != nil {
			add(orb.MultiPolygon{mended}, nil)
			moved = append(moved, mended)
		}
	}
	for _, p := range a.again {
		add(orb.MultiPolygon{p}, nil)
		moved = append(moved, p)
	}
	if !(math.Abs(wanted) <= closeEnough) || !validOnGrid(moved) {
		return OnSteps{}, false
	}
	a.there = nil
	return packInOrder(all, a.perUnit)
}

// packedPolygon is a polygon in normal form, on the grid, and its first vertex.
type packedPolygon struct {
	first  orb.Point
	packed Packed
}

// packInOrder packs polygons in normal order; false if their first vertices do not tell it.
func packInOrder(all []packedPolygon, perUnit float64) (OnSteps, bool) {
	slices.SortFunc(all, func(p, q packedPolygon) int { return geo.ComparePoints(p.first, q.first) })
	to := packers.Get().(*packer)
	defer packers.Put(to)
	to.text, to.last = to.text[:0], Step{}
	for i := range all {
		if i > 0 && all[i-1].first == all[i].first {
			return OnSteps{}, false
		}
		all[i].packed.Each(to.add)
		all[i].packed = Packed{}
	}
	return OnSteps{perUnit, Packed{text: bytes.Clone(to.text)}}, true
}

package shape

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// joinedWithin is the largest difference between the area of a union and the area computed from its
// parts, as a share of their box. Our choice: a hundred times the rounding of the latter.
const joinedWithin = 1e-10

// Join returns the union of two valid areas, see MakeValid. Polygons apart from the whole other
// area are kept as they are. Near linear in the vertices.
func Join(a, b orb.MultiPolygon) orb.MultiPolygon {
	apartA, a := partedBy(a, b)
	apartB, b := partedBy(b, a)
	apart := slices.Concat(apartA, apartB)
	if len(a) == 0 || len(b) == 0 {
		return normalize(slices.Concat(apart, a, b).Clone())
	}
	both, ok := joined(a, b)
	if !ok {
		both = dissolve(slices.Concat(a, b))
	}
	return normalize(append(apart.Clone(), both...))
}

// westward is the number of a side and its west end: small, so that sorting is fast.
type westward struct {
	left float64
	side int32
}

// partedBy returns the polygons of mp whose boxes touch no box of the other area, and the rest.
func partedBy(mp, other orb.MultiPolygon) (apart, rest orb.MultiPolygon) {
	boxes := make([]orb.Bound, len(other))
	for i, polygon := range other {
		boxes[i] = polygon.Bound()
	}
	slices.SortFunc(boxes, func(p, q orb.Bound) int { return cmp.Compare(p.Min[0], q.Min[0]) })
	widest := 0.0
	for _, box := range boxes {
		widest = max(widest, box.Max[0]-box.Min[0])
	}
	for _, polygon := range mp {
		box := polygon.Bound()
		at, _ := slices.BinarySearchFunc(boxes, box.Min[0]-widest, func(p orb.Bound, x float64) int { return cmp.Compare(p.Min[0], x) })
		meets := false
		for ; at < len(boxes) && boxes[at].Min[0] <= box.Max[0] && !meets; at++ {
			meets = boxes[at].Intersects(box)
		}
		if meets {
			rest = append(rest, polygon)
		} else {
			apart = append(apart, polygon)
		}
	}
	return apart, rest
}

// joined is the union of two valid areas whose sides cross cleanly: it follows the parts of each
// outline outside the other area. False where the result does not close, is not valid, or differs
// in area from the sum of both less the shared part. That happens where sides coincide except for
// rounding.
func joined(a, b orb.MultiPolygon) (orb.MultiPolygon, bool) {
	all := cutByOther(a, b)
	all = outsideOther(all, [2]orb.MultiPolygon{a, b})
	out, ok := facesBeside(all)
	if !ok {
		return nil, false
	}
	box := exteriorBox(slices.Concat(a, b))
	within := joinedWithin * (box.Max[0] - box.Min[0]) * (box.Max[1] - box.Min[1])
	if want := Area(a) + Area(b) - IntersectionArea(a, b); math.Abs(float64(Area(out)-want)) > within {
		return nil, false
	}
	return out, validUnlessNear(out, roundingOf(box))
}

// roundingOf returns more than the rounding of places in a box, and of what is worked out from a few of
// them: 64 units in the last place of the largest coordinate. Our choice.
func roundingOf(box orb.Bound) float64 {
	return 64 * 0x1p-52 * max(math.Abs(box.Min[0]), math.Abs(box.Min[1]), math.Abs(box.Max[0]), math.Abs(box.Max[1]))
}

// facesBeside returns the polygons on the left of borders; false when they do not close. It
// reverses the borders.
func facesBeside(all []border) (orb.MultiPolygon, bool) {
	// pairUp follows the face on the right, so that faces that touch stay separate
	for i, b := range all {
		all[i].from, all[i].to = b.to, b.from
	}
	slices.SortFunc(all, compareBorders)
	w := &borders{all: all, onward: pairUp(all)}
	for i, next := range w.onward {
		if w.all[i].to != w.all[next].from {
			return nil, false
		}
	}
	var rings []orb.Ring
	for loop, _ := w.loop(); loop != nil; loop, _ = w.loop() {
		for _, ring := range simpleRings(loop[:len(loop)-1]) {
			slices.Reverse(ring)
			rings = append(rings, ring)
		}
	}
	faces, ok := nestByTurn(rings)
	if !ok {
		return nil, false
	}
	return normalize(faces), true
}

// cutByOther returns the edges of both areas, each with its area on the left, in the order of their
// rings, cut where they meet edges of the other area.
func cutByOther(a, b orb.MultiPolygon) []border {
	var all []border
	for i, mp := range [2]orb.MultiPolygon{a, b} {
		for _, polygon := range mp {
			for k, ring := range polygon {
				all = appendBorders(all, ring, (signedArea(ring) > 0) == (k == 0), int32(i))
			}
		}
	}
	window, other := exteriorBox(a), exteriorBox(b)
	for k := range 2 {
		window.Min[k], window.Max[k] = max(window.Min[k], other.Min[k]), min(window.Max[k], other.Max[k])
	}
	var near [2][]westward
	widest := 0.0
	for i := range all {
		if box := all[i].box(); window.Intersects(box) {
			near[all[i].area] = append(near[all[i].area], westward{box.Min[0], int32(i)})
			if all[i].area == 1 {
				widest = max(widest, box.Max[0]-box.Min[0])
			}
		}
	}
	slices.SortFunc(near[1], func(s, t westward) int { return cmp.Compare(s.left, t.left) })
	cuts := make(map[int32][]orb.Point)
	for _, s := range near[0] {
		p := &all[s.side]
		box := p.box()
		at, _ := slices.BinarySearchFunc(near[1], box.Min[0]-widest, func(t westward, x float64) int { return cmp.Compare(t.left, x) })
		for ; at < len(near[1]) && near[1][at].left <= box.Max[0]; at++ {
			q := &all[near[1][at].side]
			if max(q.from[1], q.to[1]) < box.Min[1] || min(q.from[1], q.to[1]) > box.Max[1] {
				continue
			}
			if c := cutsOf(cuts[s.side], p, q, false, 0); c != nil {
				cuts[s.side] = c
			}
			if c := cutsOf(cuts[near[1][at].side], q, p, true, 0); c != nil {
				cuts[near[1][at].side] = c
			}
		}
	}
	out := make([]border, 0, len(all)+2*len(cuts))
	for i := range all {
		out = appendCut(out, all[i], cuts[int32(i)])
	}
	return out
}

// outsideOther returns the borders outside the other of two areas. Along a ring this changes only
// where the outlines meet.
func outsideOther(all []border, areas [2]orb.MultiPolygon) []border {
	var ends [2]map[orb.Point]bool
	for i := range ends {
		ends[i] = make(map[orb.Point]bool)
	}
	for _, b := range all {
		ends[b.area][b.from] = true
	}
	var boxes [2][]orb.Bound
	for i, mp := range areas {
		for _, polygon := range mp {
			boxes[i] = append(boxes[i], polygon.Bound())
		}
	}
	kept := all[:0]
	var before border
	inside := false
	for k, b := range all {
		other := 1 - b.area
		if k == 0 || before.area != b.area || before.to != b.from || ends[other][b.from] {
			middle := orb.Point{(b.from[0] + b.to[0]) / 2, (b.from[1] + b.to[1]) / 2}
			inside = false
			for i, polygon := range areas[other] {
				if boxes[other][i].Contains(middle) && polygonContains(polygon, middle) {
					inside = true
					break
				}
			}
		}
		if before = b; !inside {
			kept = append(kept, b)
		}
	}
	return kept
}

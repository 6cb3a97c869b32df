package shape

import "github.com/paulmach/orb"

// side is one edge of a ring, with its place there.
type side struct {
	a, b        orb.Point
	ring, index int32
	last        int32 // index of the ring's last side
}

// isClear reports whether all sides of mp that are not neighbours in a ring are farther apart than
// eps, and no neighbours fold back on each other. Then no rings cross or touch. False only means
// that a closer check is needed. Near linear, see eachNear.
func isClear(mp orb.MultiPolygon, eps float64) bool {
	clear := true
	eachNear(mp, eps, func(_, _ *side) bool {
		clear = false
		return false
	})
	return clear
}

// crammedWithin is the distance, in steps, below which sides on a grid are crammed: moving both by
// a step may bring them together. Our choice.
const crammedWithin = 4

// crammed returns the corners of the sides on a grid that are not clear at crammedWithin, and
// whether mp is clear at gridClear.
func crammed(mp orb.MultiPolygon) (corners map[orb.Point]bool, clear bool) {
	corners, clear = make(map[orb.Point]bool), true
	eachNear(mp, crammedWithin, func(s, t *side) bool {
		corners[s.a], corners[s.b], corners[t.a], corners[t.b] = true, true, true, true
		clear = clear && s != t && apartBy(s, t, gridClear)
		return true
	})
	return corners, clear
}

// apartBy reports whether two sides meet the condition of isClear.
func apartBy(s, t *side, eps float64) bool {
	if s.ring == t.ring {
		if s.index > t.index {
			s, t = t, s
		}
		follows := t.index == s.index+1
		if closes := s.index == 0 && t.index == s.last; closes && !follows {
			s, t = t, s
			follows = true
		}
		if follows { // they share s.b: neither far end may lie on the other side
			return pointToSegment(t.b, s.a, s.b) > eps*eps && pointToSegment(s.a, t.a, t.b) > eps*eps
		}
	}
	return segmentToSegment(s.a, s.b, t.a, t.b) > eps*eps
}

package shape

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// side is one edge of a ring, with its place there.
type side struct {
	a, b        orb.Point
	ring, index int32
	last        int32   // index of the ring's last side
	left, right float64 // of its box
}

// westward is a side's number and where it begins in the west: what is sorted is small.
type westward struct {
	left float64
	side int32
}

// isClear reports whether every two sides of mp that are not neighbours in a ring are
// farther apart than eps and no two neighbours fold back on each other: rings then
// neither cross nor touch. False says nothing more than that one must look closer. A
// sweep from west to east: near linear where sides are short.
func isClear(mp orb.MultiPolygon, eps float64) bool {
	clear := true
	eachNear(mp, eps, func(_, _ *side) bool {
		clear = false
		return false
	})
	return clear
}

// crammedWithin is how near each other, in steps, sides on a grid are crammed: nearer
// than moves of a step at both may bring them together. Our choice.
const crammedWithin = 4

// crammed returns the corners of the sides on a grid that isClear would complain of at
// crammedWithin, and what it would say at gridClear.
func crammed(mp orb.MultiPolygon) (corners map[orb.Point]bool, clear bool) {
	corners, clear = make(map[orb.Point]bool), true
	eachNear(mp, crammedWithin, func(s, t *side) bool {
		corners[s.a], corners[s.b], corners[t.a], corners[t.b] = true, true, true, true
		clear = clear && s != t && apartBy(s, t, gridClear)
		return true
	})
	return corners, clear
}

// eachNear calls do with every two sides that do not keep apart, and stops where it
// says false.
func eachNear(mp orb.MultiPolygon, eps float64, do func(s, t *side) bool) {
	all := sidesOf(mp)
	order := make([]westward, len(all))
	for i := range all {
		order[i] = westward{all[i].left, int32(i)}
	}
	slices.SortFunc(order, func(s, t westward) int { return cmp.Compare(s.left, t.left) })
	for i := range order {
		s := &all[order[i].side]
		if s.a == s.b || math.IsNaN(s.left-s.right) {
			if !do(s, s) {
				return
			}
			continue
		}
		low, high := min(s.a[1], s.b[1])-eps, max(s.a[1], s.b[1])+eps
		for k := i + 1; k < len(order) && order[k].left <= s.right+eps; k++ {
			t := &all[order[k].side]
			if max(t.a[1], t.b[1]) < low || min(t.a[1], t.b[1]) > high {
				continue
			}
			if !apartBy(s, t, eps) && !do(s, t) {
				return
			}
		}
	}
}

func sidesOf(mp orb.MultiPolygon) []side {
	n := 0
	for _, p := range mp {
		for _, r := range p {
			n += len(r)
		}
	}
	all := make([]side, 0, n)
	ring := int32(0)
	for _, p := range mp {
		for _, r := range p {
			for k := 0; k+1 < len(r); k++ {
				all = append(all, side{r[k], r[k+1], ring, int32(k), int32(len(r) - 2), min(r[k][0], r[k+1][0]), max(r[k][0], r[k+1][0])})
			}
			ring++
		}
	}
	return all
}

// apartBy reports whether two sides keep apart as isClear asks.
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
		if follows { // they share s.b: the far ends must not lie on the other
			return pointToSegment(t.b, s.a, s.b) > eps*eps && pointToSegment(s.a, t.a, t.b) > eps*eps
		}
	}
	return segmentToSegment(s.a, s.b, t.a, t.b) > eps*eps
}

package shape

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"driftreach/geo/disjoint"
)

// turning is a vertex of a ring with the vertices before and after it.
type turning struct {
	ring          int32
	before, after orb.Point
}

// onlyTouch reports whether mp is valid (OGC Simple Features, 6.1.11 and 6.1.14) as far as these are
// enough to prove it: its rings are apart, as isClear asks, but for corners that two or more of them
// share without crossing there; the inside of each polygon stays connected; and every hole lies in an
// exterior and in no other hole, every exterior in none. False only means that a closer check is needed.
// Near linear but for a term of rings x vertices / 32, where the library looks at every vertex.
func onlyTouch(mp orb.MultiPolygon, eps float64) bool {
	shared, ok := sharedCorners(mp, eps)
	return ok && touchesLeaveConnected(mp, shared) && wellNested(mp)
}

// touchesLeaveConnected reports whether no rings cross at the corners that they share, and no chain of
// touching rings of a polygon closes: that would cut its inside.
func touchesLeaveConnected(mp orb.MultiPolygon, shared map[orb.Point][]turning) bool {
	of := polygonOfRing(mp)
	linked := disjoint.NewSets(len(of))
	for at, here := range shared {
		for i, c := range here {
			first := true
			for _, other := range here[:i] {
				if c.crosses(other, at) {
					return false
				}
				if of[other.ring] == of[c.ring] && first {
					first = false
					if !linked.Union(c.ring, other.ring) {
						return false
					}
				}
			}
		}
	}
	return true
}

// crosses reports whether two rings cross where both have a corner: one side of the other lies left of
// the way through, and one right. No two sides there may have the same direction.
func (c turning) crosses(other turning, at orb.Point) bool {
	angle := func(p orb.Point) float64 { // from the side after, counterclockwise
		from, to := math.Atan2(c.after[1]-at[1], c.after[0]-at[0]), math.Atan2(p[1]-at[1], p[0]-at[0])
		if to < from {
			to += 2 * math.Pi
		}
		return to - from
	}
	left := angle(c.before)
	return (angle(other.before) < left) != (angle(other.after) < left)
}

// sharedCorners returns the corners at which different rings of mp touch. False when sides touch or
// come near each other in any other way.
func sharedCorners(mp orb.MultiPolygon, eps float64) (shared map[orb.Point][]turning, ok bool) {
	shared, ok = make(map[orb.Point][]turning), true
	eachNear(mp, eps, func(s, t *side) bool {
		ok = false
		if s.ring == t.ring { // a side of no length, a fold, or a ring that touches itself
			return false
		}
		at, endOfS := s.b, s.a
		if s.a == t.a || s.a == t.b {
			at, endOfS = s.a, s.b
		}
		endOfT := t.a
		switch at {
		case t.a:
			endOfT = t.b
		case t.b:
		default:
			return false
		}
		if pointToSegment(endOfS, t.a, t.b) <= eps*eps || pointToSegment(endOfT, s.a, s.b) <= eps*eps {
			return false
		}
		shared[at] = withSide(withSide(shared[at], s, at), t, at)
		ok = true
		return true
	})
	return shared, ok
}

// withSide adds a side that begins or ends at a place to the corners there.
func withSide(here []turning, s *side, at orb.Point) []turning {
	k := 0
	for k < len(here) && here[k].ring != s.ring {
		k++
	}
	if k == len(here) {
		here = append(here, turning{ring: s.ring})
	}
	if s.a == at {
		here[k].after = s.b
	} else {
		here[k].before = s.a
	}
	return here
}

// wellNested reports whether each hole of mp lies in one exterior more than in other holes, and each
// exterior in as many other exteriors as holes. No rings may cross.
func wellNested(mp orb.MultiPolygon) bool {
	var rings []fringe
	var depth []int // by ring: 1 inside an exterior, -1 inside a hole
	var tree rtree.RTreeGN[float64, int]
	for _, p := range mp {
		for i, r := range p {
			box := r.Bound()
			tree.Insert(box.Min, box.Max, len(rings))
			rings = append(rings, fringe{r, runBoxes(r)})
			if i == 0 {
				depth = append(depth, 1)
			} else {
				depth = append(depth, -1)
			}
		}
	}
	for k := range rings {
		at, around := amidLongest(rings[k].ring), 0
		tree.Search(at, at, func(_, _ [2]float64, i int) bool {
			if i != k {
				if in, _ := rings[i].contains(at); in {
					around += depth[i]
				}
			}
			return true
		})
		if around != (1-depth[k])/2 {
			return false
		}
	}
	return true
}

package shape

import (
	"math"

	"github.com/paulmach/orb"
)

// leastRing is the area below which a ring counts as rounding, square metres. Our choice: a
// hundredth of a square millimetre.
const leastRing = 1e-8

// rings collects closed rings into one polygon for each component: its only counter-clockwise ring,
// with the other rings as holes.
type rings struct {
	place map[int]int
	outer []orb.Ring
	holes [][]orb.Ring
}

func newRings() *rings { return &rings{place: make(map[int]int)} }

// add takes a ring of a component; false for a second outer one.
func (s *rings) add(component int, r orb.Ring) bool {
	area := signedArea(r)
	if math.Abs(area) < leastRing {
		return true
	}
	at, seen := s.place[component]
	if !seen {
		at = len(s.outer)
		s.place[component] = at
		s.outer, s.holes = append(s.outer, nil), append(s.holes, nil)
	}
	if area < 0 {
		s.holes[at] = append(s.holes[at], r)
		return true
	}
	if s.outer[at] != nil {
		return false
	}
	s.outer[at] = r
	return true
}

// polygons returns the polygons in normal form; false when a component has no outer ring or, tested
// only when doubtful, they are not valid.
func (s *rings) polygons(doubtful bool) (orb.MultiPolygon, bool) {
	mp := make(orb.MultiPolygon, len(s.outer))
	for i, r := range s.outer {
		if r == nil {
			return nil, false
		}
		mp[i] = append(orb.Polygon{r}, s.holes[i]...)
	}
	if doubtful && Valid(mp) != nil {
		return nil, false
	}
	return normalize(mp), true
}

package flow

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// crossesItself reports whether two segments of a path that are not neighbours share a point,
// planar in degrees. A path where only the two ends meet does not cross itself. Linear for a path
// that never turns back from the direction between its ends; else a sweep by longitude, n log n
// unless most segments overlap in it.
func crossesItself(path orb.LineString) bool {
	if len(path) < 4 || advances(path) {
		return false
	}
	segments := segmentsByWest(path)
	for i, s := range segments {
		for _, t := range segments[i+1:] {
			if t.west > s.east {
				break
			}
			if s.south <= t.north && t.south <= s.north && meet(s, t, len(segments)-1) {
				return true
			}
		}
	}
	return false
}

// advances reports whether every segment moves forward in the direction between the path's ends.
func advances(path orb.LineString) bool {
	first, last := path[0], path[len(path)-1]
	dx, dy := earth.Wrap(last[0]-first[0]), last[1]-first[1]
	for i := 1; i < len(path); i++ {
		if earth.Wrap(path[i][0]-path[i-1][0])*dx+(path[i][1]-path[i-1][1])*dy <= 0 {
			return false
		}
	}
	return true
}

// segment is a piece of a path between two vertices that differ, with its box.
type segment struct {
	box
	index int
	p, q  orb.Point
}

// segmentsByWest returns the segments of a path that have a length, sorted by west edge. Their
// longitudes continue without a jump.
func segmentsByWest(path orb.LineString) []segment {
	segments := make([]segment, 0, len(path)-1)
	p := path[0]
	for i := 1; i < len(path); i++ {
		q := orb.Point{p[0] + earth.Wrap(path[i][0]-p[0]), path[i][1]}
		if p != q {
			b := box{min(p[0], q[0]), min(p[1], q[1]), max(p[0], q[0]), max(p[1], q[1])}
			segments = append(segments, segment{b, len(segments), p, q})
		}
		p = q
	}
	slices.SortFunc(segments, func(a, b segment) int {
		return cmp.Or(cmp.Compare(a.west, b.west), a.index-b.index)
	})
	return segments
}

// meet reports whether two segments of one path share a point, other than the vertex between
// neighbours or the two ends of the path.
func meet(s, t segment, last int) bool {
	if s.index > t.index {
		s, t = t, s
	}
	if t.index == s.index+1 {
		// neighbours share a vertex; they share more only when they fold back
		return turn(s.p, s.q, t.q) == 0 && (s.p[0]-s.q[0])*(t.q[0]-s.q[0])+(s.p[1]-s.q[1])*(t.q[1]-s.q[1]) > 0
	}
	if s.index == 0 && t.index == last && s.p == t.q {
		return false
	}
	a, b := turn(s.p, s.q, t.p), turn(s.p, s.q, t.q)
	c, d := turn(t.p, t.q, s.p), turn(t.p, t.q, s.q)
	return a*b <= 0 && c*d <= 0
}

// turn returns 1 when p, q, r turn left, -1 right, 0 straight on.
func turn(p, q, r orb.Point) int {
	v := (q[0]-p[0])*(r[1]-p[1]) - (q[1]-p[1])*(r[0]-p[0])
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

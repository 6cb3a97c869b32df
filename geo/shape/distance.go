package shape

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// DistanceToLine returns the shortest distance between mp and l: 0 when they share a point or l is
// inside; +Inf when either is empty. Cost: vertices of mp times vertices of l.
func DistanceToLine(mp orb.MultiPolygon, l orb.LineString) geo.Meters {
	if len(l) == 0 {
		return geo.Meters(math.Inf(1))
	}
	if Contains(mp, l[0]) {
		return 0
	}
	best := math.Inf(1)
	for _, p := range mp {
		for _, r := range p {
			best = min(best, ringToLine(r, l, best))
		}
	}
	return geo.Meters(math.Sqrt(best))
}

// Within reports whether a place is in mp or at most d away from it, measured as by DistanceToLine.
// It stops at the first side that near, and skips sides whose box is farther.
func Within(mp orb.MultiPolygon, at orb.Point, d geo.Meters) bool {
	if d < 0 {
		return false
	}
	near := orb.Bound{Min: at, Max: at}.Pad(float64(d) * (1 + 1e-9))
	for _, polygon := range mp {
		for _, r := range polygon {
			if besideRing(r, at, near, d) {
				return true
			}
		}
	}
	return Contains(mp, at)
}

// besideRing reports whether any side of a ring comes within d of a place; near is the box around
// all places within d.
func besideRing(r orb.Ring, at orb.Point, near orb.Bound, d geo.Meters) bool {
	for i := 0; i+1 < len(r); i++ {
		a, b := r[i], r[i+1]
		if max(a[0], b[0]) < near.Min[0] || min(a[0], b[0]) > near.Max[0] ||
			max(a[1], b[1]) < near.Min[1] || min(a[1], b[1]) > near.Max[1] {
			continue
		}
		if geo.Meters(math.Sqrt(pointToSegment(at, a, b))) <= d {
			return true
		}
	}
	return false
}

// ringToLine returns the squared shortest distance if it is below limit, else some number not below
// limit.
func ringToLine(r orb.Ring, l orb.LineString, limit float64) float64 {
	for i := 0; i+1 < len(r); i++ {
		a, b := r[i], r[i+1]
		if len(l) == 1 {
			limit = min(limit, pointToSegment(l[0], a, b))
			continue
		}
		for j := 0; j+1 < len(l); j++ {
			if boxGap(a, b, l[j], l[j+1]) < limit {
				limit = min(limit, segmentToSegment(a, b, l[j], l[j+1]))
			}
		}
	}
	return limit
}

// boxGap returns the squared distance between the boxes of ab and cd, a lower bound of the squared
// distance of the segments.
func boxGap(a, b, c, d orb.Point) float64 {
	x, y := gap(a[0], b[0], c[0], d[0]), gap(a[1], b[1], c[1], d[1])
	return x*x + y*y
}

// gap returns the distance of the interval from a to b and that from c to d, in either order. The
// comparisons are those of min and max, faster where no number is NaN.
func gap(a, b, c, d float64) float64 {
	if a > b {
		a, b = b, a
	}
	if c > d {
		c, d = d, c
	}
	switch {
	case a > d:
		return a - d
	case c > b:
		return c - b
	}
	return 0
}

// segmentToSegment returns the squared distance between ab and cd.
func segmentToSegment(a, b, c, d orb.Point) float64 {
	if cross(a, b, c)*cross(a, b, d) <= 0 && cross(c, d, a)*cross(c, d, b) <= 0 && boxGap(a, b, c, d) == 0 {
		return 0
	}
	return min(pointToSegment(a, c, d), pointToSegment(b, c, d),
		pointToSegment(c, a, b), pointToSegment(d, a, b))
}

// cross is twice the signed area of the triangle abc.
func cross(a, b, c orb.Point) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// pointToSegment returns the squared distance from p to ab.
func pointToSegment(p, a, b orb.Point) float64 {
	abx, aby := b[0]-a[0], b[1]-a[1]
	apx, apy := p[0]-a[0], p[1]-a[1]
	t := 0.0
	if ll := abx*abx + aby*aby; ll > 0 {
		t = min(1, max(0, (apx*abx+apy*aby)/ll))
	}
	dx, dy := apx-t*abx, apy-t*aby
	return dx*dx + dy*dy
}

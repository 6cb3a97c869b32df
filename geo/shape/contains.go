package shape

import "github.com/paulmach/orb"

// Contains reports whether p is in mp; the outline counts as in. Exact except for rounding in one
// product. Linear in the vertices.
func Contains(mp orb.MultiPolygon, p orb.Point) bool {
	for _, polygon := range mp {
		if polygonContains(polygon, p) {
			return true
		}
	}
	return false
}

func polygonContains(polygon orb.Polygon, p orb.Point) bool {
	for i, r := range polygon {
		in, on := ringContains(r, p)
		if on {
			return true
		}
		if in != (i == 0) {
			return false
		}
	}
	return len(polygon) > 0
}

// ringContains counts the crossings of a ray to the right of p (the even-odd rule); on says that p
// lies on the outline itself.
func ringContains(r orb.Ring, p orb.Point) (in, on bool) {
	if len(r) == 0 {
		return false, false
	}
	return oddCrossings(r[len(r)-1], r, p)
}

// oddCrossings reports whether a ray to the right of p crosses the line from a through all of r an odd
// number of times; on says that p lies on it.
func oddCrossings(a orb.Point, r []orb.Point, p orb.Point) (odd, on bool) {
	for _, b := range r {
		if p == b {
			return false, true
		}
		if (a[1] > p[1]) != (b[1] > p[1]) {
			side := (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0])
			if side == 0 {
				return false, true
			}
			if (side > 0) == (b[1] > a[1]) {
				odd = !odd
			}
		} else if a[1] == p[1] && b[1] == p[1] && (a[0] > p[0]) != (b[0] > p[0]) {
			return false, true
		}
		a = b
	}
	return odd, false
}

// contains is ringContains of the ring, by its runs.
func (f *fringe) contains(p orb.Point) (in, on bool) {
	for k, run := range f.runs {
		if run.Max[1] < p[1] || run.Min[1] > p[1] || run.Max[0] < p[0] {
			continue
		}
		edges := f.edges(k)
		odd, on := oddCrossings(edges[0], edges[1:], p)
		if on {
			return false, true
		}
		in = in != odd
	}
	return in, false
}

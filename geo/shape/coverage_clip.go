package shape

import "github.com/paulmach/orb"

// Clip returns the part of area i in box, for measuring. Rings keep their winding and holes stay
// holes, but where the area enters the box several times, its parts stay connected along the sides
// of the box, by lines without area. IntersectionArea and Area can use it directly; MakeValid makes
// it a valid area. Sutherland and Hodgman, Communications of the ACM 17, 32-42, 1974. A run of
// edges beyond one side counts as one edge.
func (m *Coverage) Clip(i int32, box orb.Bound) orb.MultiPolygon {
	var out orb.MultiPolygon
	for k := m.first[i]; k < m.first[i+1]; k++ {
		var polygon orb.Polygon
		for r := range m.polygons[k].rings {
			ring := m.polygons[k].rings[r].within(box)
			if len(ring) == 0 && r == 0 {
				break
			}
			if len(ring) > 0 {
				polygon = append(polygon, ring)
			}
		}
		if len(polygon) > 0 {
			out = append(out, polygon)
		}
	}
	return out
}

// within returns the ring clipped to box and closed, nil for nothing.
func (f *fringe) within(box orb.Bound) orb.Ring {
	ring := make(orb.Ring, 0, 2*edgesPerRun)
	for k, run := range f.runs {
		edges := f.edges(k)
		if run.Intersects(box) {
			ring = append(ring, edges[:len(edges)-1]...)
		} else {
			ring = append(ring, edges[0])
		}
	}
	for axis := range 2 {
		ring = clipTo(ring, axis, box.Min[axis], 1)
		ring = clipTo(ring, axis, box.Max[axis], -1)
	}
	if len(ring) < 3 {
		return nil
	}
	return append(ring, ring[0])
}

// clipTo returns the part of an open ring whose coordinate, times sign, is not below limit times
// sign.
func clipTo(ring orb.Ring, axis int, limit, sign float64) orb.Ring {
	if len(ring) == 0 {
		return nil
	}
	out := make(orb.Ring, 0, len(ring)+4)
	a := ring[len(ring)-1]
	for _, b := range ring {
		from, to := sign*(a[axis]-limit), sign*(b[axis]-limit)
		if (from >= 0) != (to >= 0) {
			t := from / (from - to)
			p := orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}
			p[axis] = limit
			out = append(out, p)
		}
		if to >= 0 {
			out = append(out, b)
		}
		a = b
	}
	return out
}

package shape

import (
	"slices"

	"github.com/paulmach/orb"
)

// Part is the part of a segment in one area of a coverage, -1 for none, as fractions of the way
// along the segment.
type Part struct {
	From, To float64
	Area     int32
}

// Along appends to parts the sequence of areas from a to b: without gaps, from 0 to 1, neighbouring
// parts in different areas. On an outline, and where areas overlap, the first area counts. A
// segment of length 0 is one part.
func (m *Coverage) Along(parts []Part, a, b orb.Point) []Part {
	box := orb.Bound{Min: orb.Point{min(a[0], b[0]), min(a[1], b[1])}, Max: orb.Point{max(a[0], b[0]), max(a[1], b[1])}}
	across, cover := m.Meeting(box)
	if len(across) == 0 {
		return append(parts, Part{0, 1, cover})
	}
	cuts := []float64{0, 1}
	for _, i := range across {
		for k := m.first[i]; k < m.first[i+1]; k++ {
			cuts = m.polygons[k].crossings(cuts, a, b, box)
		}
	}
	slices.Sort(cuts)
	begin := len(parts)
	for i := 0; i+1 < len(cuts); i++ {
		if cuts[i+1] == cuts[i] {
			continue
		}
		t := (cuts[i] + cuts[i+1]) / 2
		area := m.First(orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])})
		if n := len(parts); n > begin && parts[n-1].Area == area {
			parts[n-1].To = cuts[i+1]
		} else {
			parts = append(parts, Part{cuts[i], cuts[i+1], area})
		}
	}
	return parts
}

// crossings appends the places where the outline of t crosses ab, whose box is given. An edge along
// ab counts as no crossing; the edges at its ends do.
func (t *areaPolygon) crossings(cuts []float64, a, b orb.Point, box orb.Bound) []float64 {
	for i := range t.rings {
		f := &t.rings[i]
		for k, run := range f.runs {
			if !run.Intersects(box) {
				continue
			}
			edges := f.edges(k)
			for e := 0; e+1 < len(edges); e++ {
				c, d := edges[e], edges[e+1]
				from, to := cross(a, b, c), cross(a, b, d)
				if from == to || (from > 0) == (to > 0) && from != 0 && to != 0 {
					continue
				}
				before, after := cross(c, d, a), cross(c, d, b)
				if at := before / (before - after); at > 0 && at < 1 {
					cuts = append(cuts, at)
				}
			}
		}
	}
	return cuts
}

package shape

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"
)

// Coverage is a set of areas (counties, parcels, a grid) prepared for fast queries by place.
// Coordinates may be of any plane, degrees too: edges are straight there. Areas may touch, leave
// gaps and overlap. Overlapping ground belongs to the first area, so that every place has one area
// at most. Read-only after NewCoverage and safe for concurrent use.
type Coverage struct {
	polygons []areaPolygon // polygons, area by area
	first    []int32       // by area: index of its first polygon; one more at the end
	tree     rtree.RTreeGN[float64, int32]
}

// areaPolygon is one polygon of an area of a coverage.
type areaPolygon struct {
	area  int32
	rings []fringe
	bands *bands // nil for a polygon of few runs
}

// fringe is a closed ring with the boxes of its runs of edges.
type fringe struct {
	ring orb.Ring
	runs []orb.Bound
}

// edgesPerRun balances the boxes to look at against the edges. Our choice: the square root of the
// usual number of vertices of an outline, a few hundred to a few thousand.
const edgesPerRun = 32

// NewCoverage prepares areas, whose rings must be closed, in either winding. It keeps the rings,
// which must not change afterwards. n log n in polygons, linear in vertices.
func NewCoverage(areas []orb.MultiPolygon) *Coverage {
	m := &Coverage{first: make([]int32, 0, len(areas)+1)}
	for i, mp := range areas {
		m.first = append(m.first, int32(len(m.polygons)))
		for _, polygon := range mp {
			if len(polygon) == 0 || len(polygon[0]) < 4 {
				continue
			}
			t := areaPolygon{area: int32(i)}
			for _, ring := range polygon {
				t.rings = append(t.rings, fringe{ring, runBoxes(ring)})
			}
			box := polygon[0].Bound()
			t.bands = newBands(t.rings)
			m.tree.Insert(box.Min, box.Max, int32(len(m.polygons)))
			m.polygons = append(m.polygons, t)
		}
	}
	m.first = append(m.first, int32(len(m.polygons)))
	return m
}

// runBoxes returns the boxes of the runs of a ring's edges; neighbouring runs share a vertex.
func runBoxes(ring orb.Ring) []orb.Bound {
	var boxes []orb.Bound
	for at := 0; at+1 < len(ring); at += edgesPerRun {
		boxes = append(boxes, ring[at:min(at+edgesPerRun+1, len(ring))].Bound())
	}
	return boxes
}

// edges returns the vertices of run k.
func (f *fringe) edges(k int) orb.Ring {
	return f.ring[k*edgesPerRun : min((k+1)*edgesPerRun+1, len(f.ring))]
}

// Meeting returns the areas that may contain part of box: across, the areas whose outline meets the
// box, ascending, and cover, the first area that contains the whole box, or -1. It leaves out areas
// after cover, which have no ground there. Touching counts as meeting. About a microsecond for
// outlines of some hundred vertices.
func (m *Coverage) Meeting(box orb.Bound) (across []int32, cover int32) {
	var room [16]int32
	found := room[:0]
	m.tree.Search(box.Min, box.Max, func(_, _ [2]float64, i int32) bool {
		found = append(found, i)
		return true
	})
	slices.Sort(found)
	for _, i := range found {
		t := &m.polygons[i]
		switch outline, inside := t.meets(box); {
		case outline && (len(across) == 0 || across[len(across)-1] != t.area):
			across = append(across, t.area)
		case !outline && inside:
			if n := len(across); n > 0 && across[n-1] == t.area {
				across = across[:n-1] // two polygons of one area touch or overlap here
			}
			return across, t.area
		}
	}
	return across, -1
}

// First returns the first area that contains p, outlines included, or -1.
func (m *Coverage) First(p orb.Point) int32 {
	across, cover := m.Meeting(orb.Bound{Min: p, Max: p})
	if len(across) > 0 {
		return across[0]
	}
	return cover
}

// meets says whether the outline of t meets box, and if not, whether box is inside: then an odd
// number of edges lies to the right of its corner.
func (t *areaPolygon) meets(box orb.Bound) (outline, inside bool) {
	if t.bands != nil {
		return t.bands.meets(t.rings, box)
	}
	for i := range t.rings {
		f := &t.rings[i]
		for k, run := range f.runs {
			if run.Max[1] < box.Min[1] || run.Min[1] > box.Max[1] || run.Max[0] < box.Min[0] {
				continue
			}
			met, odd := f.runMeets(k, box)
			if met {
				return true, false
			}
			inside = inside != odd
		}
	}
	return false, inside
}

// runMeets says whether edges of run k meet box, and if not, whether an odd number of them lies to the
// right of its corner.
func (f *fringe) runMeets(k int, box orb.Bound) (met, odd bool) {
	p, edges := box.Min, f.edges(k)
	near := f.runs[k].Min[0] <= box.Max[0]
	for e := 0; e+1 < len(edges); e++ {
		a, b := edges[e], edges[e+1]
		if near && edgeMeets(a, b, box) {
			return true, false
		}
		if (a[1] > p[1]) != (b[1] > p[1]) && ((b[0]-a[0])*(p[1]-a[1])-(b[1]-a[1])*(p[0]-a[0]) > 0) == (b[1] > a[1]) {
			odd = !odd
		}
	}
	return false, odd
}

// edgeMeets says whether ab and box share a point: their boxes share one, and the corners of box
// are not all on one side of ab.
func edgeMeets(a, b orb.Point, box orb.Bound) bool {
	if max(a[0], b[0]) < box.Min[0] || min(a[0], b[0]) > box.Max[0] || max(a[1], b[1]) < box.Min[1] || min(a[1], b[1]) > box.Max[1] {
		return false
	}
	left, right := false, false
	for _, corner := range [4]orb.Point{box.Min, {box.Max[0], box.Min[1]}, box.Max, {box.Min[0], box.Max[1]}} {
		side := cross(a, b, corner)
		left, right = left || side >= 0, right || side <= 0
	}
	return left && right
}

package notice

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/work"
)

// ground is a spatial index of the works.
type ground struct {
	paths  []orb.LineString // of all indexed works
	workOf []int32          // by path, ascending
	index  *linear.Index
}

// newGround indexes the works for which wanted is true.
func newGround(works []work.Work, wanted func(i int) bool) *ground {
	g := &ground{}
	for i := range works {
		if !wanted(i) {
			continue
		}
		for _, path := range works[i].Paths() {
			g.paths, g.workOf = append(g.paths, path), append(g.workOf, int32(i))
		}
	}
	g.index = linear.NewIndex(g.paths)
	return g
}

// met is a work and its distance from a stand.
type met struct {
	work     int32
	distance geo.Meters
}

// near returns the works whose lines and outlines come within a distance of a stand's footprint, sorted
// by work. Distances are computed in a frame centred on the stand; their error is below 1e-6 for
// footprints up to 18 km across.
func (g *ground) near(st *stand.Stand, distance geo.Meters) []met {
	f := footprintOf(st)
	var out []met
	for _, run := range g.index.Near(st.Center, f.radius+distance) {
		d := f.distance(g.paths[run.Line][run.First : run.Last+1])
		if d > distance {
			continue
		}
		// runs are sorted by path, and so by work
		if n := len(out); n > 0 && out[n-1].work == g.workOf[run.Line] {
			out[n-1].distance = min(out[n-1].distance, d)
			continue
		}
		out = append(out, met{g.workOf[run.Line], d})
	}
	return out
}

// inside returns, by work, the live stands that are inside its areas although no outline is near them.
// Each area costs a search among the stands.
func inside(works []work.Work, stands []stand.Stand, wanted func(work int) bool) [][]int32 {
	var centers []orb.LineString
	var standOf []int32
	for i := range stands {
		if Live(&stands[i]) {
			centers, standOf = append(centers, orb.LineString{stands[i].Center}), append(standOf, int32(i))
		}
	}
	index := linear.NewIndex(centers)
	out := make([][]int32, len(works))
	for i := range works {
		if len(works[i].Areas) == 0 || !wanted(i) {
			continue
		}
		center, half := disc(works[i].Areas)
		for _, run := range index.Near(center, half) {
			if k := standOf[run.Line]; footprintOf(&stands[k]).within(works[i].Areas) {
				out[i] = append(out[i], k)
			}
		}
	}
	return out
}

// disc returns the center and radius of a disc that contains all of the areas.
func disc(areas orb.MultiPolygon) (center orb.Point, half geo.Meters) {
	b := areas.Bound()
	center = orb.Point{(b.Min[0] + b.Max[0]) / 2, (b.Min[1] + b.Max[1]) / 2}
	for _, polygon := range areas {
		for _, p := range polygon[0] {
			half = max(half, earth.Distance(center, p))
		}
	}
	return center, half
}

// footprint is a stand's footprint in metres, in a frame centred on it.
type footprint struct {
	frame  earth.Frame
	area   orb.MultiPolygon
	radius geo.Meters
}

func footprintOf(st *stand.Stand) *footprint {
	f := &footprint{frame: earth.NewFrame(st.Center)}
	f.area = f.frame.Project(st.Footprint.Polygons())
	for _, polygon := range f.area {
		for _, xy := range polygon[0] {
			f.radius = max(f.radius, geo.Meters(math.Hypot(xy[0], xy[1])))
		}
	}
	return f
}

// distance returns the shortest distance to a path.
func (f *footprint) distance(path orb.LineString) geo.Meters {
	return shape.DistanceToLine(f.area, f.frame.ProjectLine(path))
}

// within says whether all of the footprint is inside an area. It tests one vertex of each polygon,
// which is enough if no outlines cross.
func (f *footprint) within(areas orb.MultiPolygon) bool {
	projected := f.frame.Project(areas)
	return slices.ContainsFunc(f.area, func(polygon orb.Polygon) bool { return shape.Contains(projected, polygon[0][0]) })
}

// to returns the shortest distance to the work as a whole.
func (f *footprint) to(w *work.Work) geo.Meters {
	if len(w.Areas) > 0 && f.within(w.Areas) {
		return 0
	}
	best := geo.Meters(math.Inf(1))
	for _, path := range w.Paths() {
		best = min(best, f.distance(path))
	}
	return best
}

package aquatic

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/geo/shape"
)

// stepAlong is the distance between samples of a shape. Our choice: two thirds of the default
// setback, so that any contact with the zone over some length is found, and a reach that starts
// there is too short by less than this.
const stepAlong = 20

// mostSteps limits the samples on one segment, so that a segment around the globe takes no more
// than a few milliseconds. Our choice: 100 km at the full step.
const mostSteps = 5000

// Touching returns the places on the water where a shape touches the zone, by edge and offset: the
// nearest place on the stream of the nearest bank, sampled every 20 m along the paths and every 20
// m of stream inside the areas. Paths are in degrees; a path of one vertex is a point. The rings of
// areas must be among the paths, with longitudes that continue past 180 without a jump. Some
// microseconds a sample.
func (w *Water) Touching(paths []orb.LineString, areas orb.MultiPolygon) []flow.Place {
	var out []flow.Place
	if len(w.half) == 0 {
		return nil
	}
	look := func(p orb.Point) {
		if at, touches := w.enters(p); touches {
			out = append(out, at)
		}
	}
	for _, path := range paths {
		eachStep(path, look)
	}
	for _, polygon := range areas {
		w.inside(polygon, look)
	}
	slices.SortFunc(out, func(a, b flow.Place) int {
		return cmp.Or(cmp.Compare(a.Edge, b.Edge), cmp.Compare(a.Offset, b.Offset))
	})
	return slices.Compact(out)
}

// eachStep calls look with every vertex, and with places in between, at most 20 m apart.
func eachStep(path orb.LineString, look func(orb.Point)) {
	for i, p := range path {
		look(p)
		if i+1 == len(path) {
			return
		}
		n := min(math.Ceil(float64(earth.Distance(p, path[i+1]))/stepAlong), mostSteps)
		for k := 1.0; k < n; k++ {
			look(linear.Interpolate(p, path[i+1], k/n))
		}
	}
}

// inside calls look with places on the streams within a polygon.
func (w *Water) inside(polygon orb.Polygon, look func(orb.Point)) {
	center := middle(polygon[0])
	frame := earth.NewFrame(center)
	area := frame.Project(orb.MultiPolygon{polygon})
	half := geo.Meters(0)
	for _, xy := range area[0][0] {
		half = max(half, geo.Meters(math.Hypot(xy[0], xy[1])))
	}
	for _, run := range w.index().Near(center, half) {
		eachStep(w.net.Paths.At(int(run.Line))[run.First:run.Last+1], func(p orb.Point) {
			if shape.Contains(area, frame.Forward(p)) {
				look(p)
			}
		})
	}
}

// middle returns the middle of a ring's box; the ring's longitudes must be continuous.
func middle(ring orb.Ring) orb.Point {
	b := ring.Bound()
	return orb.Point{(b.Min[0] + b.Max[0]) / 2, (b.Min[1] + b.Max[1]) / 2}
}

// enters returns the place nearest to p on the stream with the nearest bank, and whether p is in
// the zone.
func (w *Water) enters(p orb.Point) (at flow.Place, touches bool) {
	frame := earth.NewFrame(p)
	v := view{w: w, center: p, frame: frame}
	v.near(w.farthest + w.setback)
	for _, ch := range v.water {
		segment, along, d := linear.NearestOnLine(orb.Point{}, ch.xy)
		v.banks = append(v.banks, bankOf{edge: ch.edge, segment: ch.first + int32(segment), along: along, middle: d, away: max(0, d-w.half[ch.edge])})
	}
	v.shoreBanks(&patch{})
	own, found := w.choose(v.banks)
	if !found || own.away > w.setback {
		return flow.Place{Edge: -1}, false
	}
	return v.place(&patch{edge: own.edge, segment: own.segment, along: own.along}), true
}

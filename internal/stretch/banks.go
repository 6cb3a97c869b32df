package stretch

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/stream"
)

// onBank is how far beyond the water's edge, in metres, a place counts as on the bank. Our choice:
// one step.
const onBank = 2

// banks finds the places on the banks beside a place on the water.
type banks struct {
	net      *stream.Network
	half     []geo.Meters
	edge     int32          // of the path; -1 for none
	path     orb.LineString // of the edge last asked for: places are asked for edge by edge
	measures []geo.Meters   // of the path
	along    geo.Meters     // measure of the place last asked for
	shores   *linear.Index  // of the water surfaces; nil for none
}

func newBanks(net *stream.Network, half []geo.Meters) *banks {
	b := &banks{net: net, half: half, edge: -1}
	var rings []orb.LineString
	for i := range net.Surfaces {
		for _, polygon := range net.Surfaces[i].Areas {
			for _, ring := range polygon {
				rings = append(rings, orb.LineString(ring))
			}
		}
	}
	if len(rings) > 0 {
		b.shores = linear.NewIndex(rings)
	}
	return b
}

// reach returns how far from its centerline the bank of some edges may be; infinite where it is the shore
// of a surface.
func (b *banks) reach(edges []int32) geo.Meters {
	reach := geo.Meters(0)
	for _, e := range edges {
		if b.onShore(e) {
			return geo.Meters(math.Inf(1))
		}
		reach = max(reach, b.half[e]+onBank)
	}
	return reach
}

// around returns a box in degrees with all places within reach of a line.
func around(line orb.LineString, reach geo.Meters) orb.Bound {
	// Twice as far is more than parallels curve and degrees shrink over half the width of a river.
	box, away := line.Bound(), 2*float64(reach)
	lon, lat := earth.LocalScale(max(math.Abs(box.Min[1]), math.Abs(box.Max[1])))
	x, y := away/lon, away/lat
	return orb.Bound{Min: orb.Point{box.Min[0] - x, box.Min[1] - y}, Max: orb.Point{box.Max[0] + x, box.Max[1] + y}}
}

// onShore says whether the banks of an edge are on the shore of a surface drawn as an area.
func (b *banks) onShore(edge int32) bool { return b.shores != nil && b.net.On[edge] >= 0 }

// middle returns a place on the centerline, in degrees.
func (b *banks) middle(at flow.Place) orb.Point {
	if b.edge != at.Edge {
		b.edge = at.Edge
		b.path, b.measures = b.net.Paths.Measured(int(at.Edge))
	}
	b.along = measureAt(b.net, b.measures, at.Edge, at.Offset)
	return linear.PointAt(b.path, b.measures, b.along)
}

// beside returns the places on the left and right bank of the place that middle returned last, in
// degrees, one step up from the water. On a surface drawn as an area, they are on its shore, where it is
// nearest on either side.
func (b *banks) beside(middle orb.Point) (sides [2]orb.Point) {
	beside := func(away geo.Meters) [2]orb.Point {
		left, right := linear.BesidePoint(b.path, b.measures, b.along, middle, away)
		return [2]orb.Point{left, right}
	}
	if !b.onShore(b.edge) {
		return beside(b.half[b.edge] + onBank)
	}
	near, _ := b.shores.Nearest(middle)
	for i, p := range beside(near.Distance) {
		shore, _ := b.shores.Nearest(p)
		sides[i] = linear.Beyond(middle, shore.Point, onBank)
	}
	return sides
}

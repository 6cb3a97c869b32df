package stretch

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
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

// of returns the place on the centerline and the places on its left and right bank, in degrees, one
// step up from the water. On a surface drawn as an area, the bank places are on its shore, where it
// is nearest on either side.
func (b *banks) of(at flow.Place) (middle orb.Point, sides [2]orb.Point) {
	if b.edge != at.Edge {
		b.edge = at.Edge
		b.path, b.measures = b.net.Paths.Measured(int(at.Edge))
	}
	path, measures := b.path, b.measures
	along := measureAt(b.net, measures, at.Edge, at.Offset)
	middle = linear.PointAt(path, measures, along)
	beside := func(away geo.Meters) [2]orb.Point {
		left, right := linear.BesidePoint(path, measures, along, middle, away)
		return [2]orb.Point{left, right}
	}
	if b.shores == nil || b.net.On[at.Edge] < 0 {
		return middle, beside(b.half[at.Edge] + onBank)
	}
	near, _ := b.shores.Nearest(middle)
	for i, p := range beside(near.Distance) {
		shore, _ := b.shores.Nearest(p)
		sides[i] = linear.Beyond(middle, shore.Point, onBank)
	}
	return middle, sides
}

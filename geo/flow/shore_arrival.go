package flow

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// arrivals says for each node whether its water has arrived: nothing leaves the node, and it is
// within the snap distance of a shore. nil without shores. Outlets are found by cell: linear in the
// vertices of the shores.
func (n *Network) arrivals(b *builder) []bool {
	var shores []int32
	for r := range b.lines.Len() {
		if l := b.line(int32(r)); l.Shore && len(l.Path) > 1 && usable(l.Path) {
			shores = append(shores, int32(r))
		}
	}
	if len(shores) == 0 {
		return nil
	}
	x := lowEnds{n: n, snap: float64(b.options.Snap), arrived: make([]bool, len(n.Nodes)), buckets: newBuckets(len(n.Nodes))}
	// at least a metre, so that a snap distance of 0 has cells too; the rest is the vertex spacing
	// of a drawn shore, our choice
	x.grid = newCells(max(100, 4*x.snap))
	for v := range n.Nodes {
		if len(n.Out(int32(v))) == 0 && len(n.In(int32(v))) > 0 {
			x.nodes = append(x.nodes, int32(v))
			x.buckets.put(x.grid.cellOf(n.Nodes[v].At), int32(v))
		}
	}
	for _, r := range shores {
		path := b.line(r).Path
		for i := 1; i < len(path); i++ {
			x.alongShore(path[i-1 : i+1])
		}
	}
	return x.arrived
}

// lowEnds are the outlets (nodes that nothing leaves), by cell.
type lowEnds struct {
	n       *Network
	snap    float64
	grid    cells
	buckets *buckets
	nodes   []int32
	arrived []bool
}

// alongShore marks the outlets within the snap distance of a segment.
func (x *lowEnds) alongShore(segment orb.LineString) {
	around := boxOf(segment).grown(x.snap)
	try := func(v int32) {
		if p := x.n.Nodes[v].At; !x.arrived[v] && around.holds(p) {
			x.arrived[v] = distanceToSegment(p, segment[0], segment[1]) <= x.snap+onLine
		}
	}
	if x.grid.cellCount(around) > float64(len(x.nodes)) {
		for _, v := range x.nodes {
			try(v)
		}
		return
	}
	x.grid.eachCell(around, func(k uint64) bool {
		for i := x.buckets.first(k); i >= 0; i = x.buckets.after(i) {
			try(i)
		}
		return true
	})
}

// onLine is how far a place computed to lie on a segment may be from it through rounding, metres: a
// tenth of the seventh decimal of a degree. Our choice.
const onLine = 1e-3

// distanceToSegment returns the distance of a place from a segment, metres, in a plane centred on
// the place.
func distanceToSegment(p, a, b orb.Point) float64 {
	perLon, perLat := earth.LocalScale(p[1])
	ax, ay := earth.Wrap(a[0]-p[0])*perLon, (a[1]-p[1])*perLat
	d2, _ := fromOrigin(ax, ay, ax+earth.Wrap(b[0]-a[0])*perLon, (b[1]-p[1])*perLat)
	return math.Sqrt(d2)
}

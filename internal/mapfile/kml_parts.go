package mapfile

import (
	"github.com/paulmach/orb"

	areas "driftreach/geo/shape"
)

// mostVertices is the most vertices that a polygon of the KML map may have. Globes refuse larger ones,
// or draw them only after a minute: common practice.
const mostVertices = 30_000

// outlines returns polygons for the KML map. Polygons with too many vertices are cut into parts along
// straight lines; together the parts cover the same ground.
func outlines(mp orb.MultiPolygon) [][][]place { return polygons(parted(mp, mostVertices)) }

// parted cuts polygons with more than most vertices in two, across their longer side, and repeats this
// until there are none.
func parted(mp orb.MultiPolygon, most int) orb.MultiPolygon {
	whole := true
	for _, p := range mp {
		whole = whole && vertices(p) <= most
	}
	if whole {
		return mp
	}
	var out orb.MultiPolygon
	for _, p := range mp {
		if vertices(p) <= most {
			out = append(out, p)
			continue
		}
		axis, middle := cutOf(p.Bound())
		for _, part := range areas.Halves(p, axis, middle) {
			out = append(out, parted(onGrid(part), most)...)
		}
	}
	return out
}

func vertices(p orb.Polygon) (n int) {
	for _, ring := range p {
		n += len(ring)
	}
	return n
}

// cutOf returns the axis along which a box is longer, and its middle there, on the grid of written
// coordinates.
func cutOf(b orb.Bound) (axis int, middle float64) {
	if b.Max[1]-b.Min[1] > b.Max[0]-b.Min[0] {
		axis = 1
	}
	return axis, float64(steps((b.Min[axis]+b.Max[axis])/2)) / perDegree
}

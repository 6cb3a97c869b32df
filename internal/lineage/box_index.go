package lineage

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/stand"
)

// boxes finds boxes in degrees that touch a given one, across the antimeridian too.
type boxes struct{ tree rtree.RTreeGN[float64, int32] }

// add stores a box with its number.
func (b *boxes) add(box orb.Bound, number int32) {
	for _, part := range wrapped(box) {
		b.tree.Insert(part.Min, part.Max, number)
	}
}

// touching returns the numbers of the boxes that touch the given one, ascending.
func (b *boxes) touching(box orb.Bound) []int32 {
	var found []int32
	for _, part := range wrapped(box) {
		b.tree.Search(part.Min, part.Max, func(_, _ [2]float64, number int32) bool {
			found = append(found, number)
			return true
		})
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// wrapped returns a box with its west edge in [-180, 180): once, or twice, one turn apart, where it
// reaches past 180.
func wrapped(box orb.Bound) []orb.Bound {
	shift := earth.Wrap(box.Min[0]) - box.Min[0]
	box.Min[0], box.Max[0] = box.Min[0]+shift, box.Max[0]+shift
	if box.Max[0] < 180 {
		return []orb.Bound{box}
	}
	west := orb.Bound{Min: orb.Point{box.Min[0] - 360, box.Min[1]}, Max: orb.Point{box.Max[0] - 360, box.Max[1]}}
	return []orb.Bound{box, west}
}

// grown returns a box in degrees that contains every place within d of box.
func grown(box orb.Bound, d geo.Meters) orb.Bound {
	// a little more, since a degree of latitude grows towards the pole
	far := float64(d) * 1.001
	_, perLat := earth.LocalScale(0)
	box.Min[1], box.Max[1] = max(-90, box.Min[1]-far/perLat), min(90, box.Max[1]+far/perLat)
	perLon, _ := earth.LocalScale(max(math.Abs(box.Min[1]), math.Abs(box.Max[1])))
	wide := min(180, far/max(perLon, 1e-9))
	box.Min[0], box.Max[0] = box.Min[0]-wide, box.Max[0]+wide
	return box
}

// boxOf returns the box of a footprint in degrees; not ok for an empty footprint.
func boxOf(footprint stand.Outline) (orb.Bound, bool) {
	box := footprint.Bound()
	return box, box != orb.Bound{}
}

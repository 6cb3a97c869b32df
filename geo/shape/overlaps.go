package shape

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"driftreach/geo"
)

// Overlap is the ground that two areas of a set have in common.
type Overlap struct {
	First, Second int32 // indices of the areas, First < Second
	Shared        orb.MultiPolygon
}

// Overlaps returns where areas of a set overlap by more than least, in the units
// of their plane, which may be degrees; by second, then first; and whether that is
// all: after most it stops. Areas must be valid. About the time of reading each pair
// of neighbours once.
func Overlaps(areas []orb.MultiPolygon, least float64, most int) (out []Overlap, all bool) {
	var tree rtree.RTreeGN[float64, int32]
	var near []int32
	for i, area := range areas {
		if len(area) == 0 {
			continue
		}
		box := area.Bound()
		near = near[:0]
		tree.Search(box.Min, box.Max, func(_, _ [2]float64, k int32) bool {
			near = append(near, k)
			return true
		})
		slices.Sort(near)
		for _, k := range near {
			if IntersectionArea(areas[k], area) <= geo.SquareMeters(least) {
				continue
			}
			if len(out) == most {
				return out, false
			}
			out = append(out, Overlap{k, int32(i), Intersection(areas[k], area)})
		}
		tree.Insert(box.Min, box.Max, int32(i))
	}
	return out, true
}

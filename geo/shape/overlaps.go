package shape

import (
	"cmp"
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
// of their plane, which may be degrees; by first, then second. Areas must be
// valid. About the time of reading each pair of neighbours once.
func Overlaps(areas []orb.MultiPolygon, least float64) []Overlap {
	var tree rtree.RTreeGN[float64, int32]
	var out []Overlap
	for i, area := range areas {
		if len(area) == 0 {
			continue
		}
		box := area.Bound()
		tree.Search(box.Min, box.Max, func(_, _ [2]float64, k int32) bool {
			if IntersectionArea(areas[k], area) > geo.SquareMeters(least) {
				out = append(out, Overlap{k, int32(i), Intersection(areas[k], area)})
			}
			return true
		})
		tree.Insert(box.Min, box.Max, int32(i))
	}
	slices.SortFunc(out, func(a, b Overlap) int {
		return cmp.Or(cmp.Compare(a.First, b.First), cmp.Compare(a.Second, b.Second))
	})
	return out
}

package shape

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/tidwall/rtree"

	"driftreach/geo"
)

// Overlap is ground common to two areas of a set.
type Overlap struct {
	First, Second int32 // indices of the areas, First < Second
	Shared        orb.MultiPolygon
}

// Overlaps returns where areas of a set overlap by more than least, in square units of their plane,
// which may be degrees, sorted by second area, then first. all is false when it stopped after most
// overlaps. Areas must be valid. Takes about as long as reading each pair of neighbours once.
func Overlaps(areas []orb.MultiPolygon, least float64, most int) (out []Overlap, all bool) {
	all = true
	eachMeeting(areas, func(k, i int32) bool {
		if IntersectionArea(areas[k], areas[i]) <= geo.SquareMeters(least) {
			return true
		}
		if all = len(out) < most; all {
			out = append(out, Overlap{k, i, Intersection(areas[k], areas[i])})
		}
		return all
	})
	return out, all
}

// eachMeeting calls do for every pair of areas k < i whose boxes meet, sorted by i and then k,
// until it returns false.
func eachMeeting(areas []orb.MultiPolygon, do func(k, i int32) bool) {
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
			if !do(k, int32(i)) {
				return
			}
		}
		tree.Insert(box.Min, box.Max, int32(i))
	}
}

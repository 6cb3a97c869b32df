package restated

import (
	"cmp"
	"slices"
	"sort"

	"github.com/paulmach/orb"
)

// byLatitude holds the indices of items, sorted from south to north.
type byLatitude struct {
	at     []int32
	south  []float64 // southern end of each item
	height float64   // height of the tallest item, in degrees
}

// latitudes sorts the items by their southern ends.
func latitudes(places []int32, box func(int32) orb.Bound) byLatitude {
	slices.SortFunc(places, func(a, b int32) int { return cmp.Or(cmp.Compare(box(a).Min[1], box(b).Min[1]), cmp.Compare(a, b)) })
	out := byLatitude{at: places, south: make([]float64, len(places))}
	for i, place := range places {
		b := box(place)
		out.south[i], out.height = b.Min[1], max(out.height, b.Max[1]-b.Min[1])
	}
	return out
}

// between returns the items that may overlap a range of latitudes.
func (l *byLatitude) between(south, north float64) []int32 {
	from := sort.SearchFloat64s(l.south, south-l.height)
	to := from + sort.Search(len(l.south)-from, func(i int) bool { return l.south[from+i] > north })
	return l.at[from:to]
}

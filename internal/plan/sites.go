package plan

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/disjoint"
	"driftreach/geo/earth"
	"driftreach/geo/linear"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
)

// Sites returns, by stand, the number of its site, counted from 0 in the order of the stands.
// Stands whose footprints are within a distance of each other, directly or through others, share a
// site. Distances are measured in a frame centred on one of the two stands: within 1e-6 up to 18
// km. It searches once for each stand and measures the distances to its neighbours, from each side: a
// stand in the middle of another, or in a hole of it, is far from its outline.
func Sites(stands []*stand.Stand, distance geo.Meters) []int32 {
	var paths []orb.LineString
	var standOf []int32
	for i, st := range stands {
		for _, polygon := range st.Footprint.Polygons() {
			paths, standOf = append(paths, orb.LineString(polygon[0])), append(standOf, int32(i))
		}
	}
	index, sets := linear.NewIndex(paths), disjoint.NewSets(len(stands))
	for i, st := range stands {
		frame := earth.NewFrame(st.Center)
		area := frame.Project(st.Footprint.Polygons())
		radius := 0.0
		for _, polygon := range area {
			for _, xy := range polygon[0] {
				radius = max(radius, math.Hypot(xy[0], xy[1]))
			}
		}
		for _, run := range index.Near(st.Center, geo.Meters(radius)+distance) {
			other := standOf[run.Line]
			if other == int32(i) || sets.Find(other) == sets.Find(int32(i)) {
				continue
			}
			if shape.DistanceToLine(area, frame.ProjectLine(paths[run.Line][run.First:run.Last+1])) <= distance {
				sets.Union(int32(i), other)
			}
		}
	}
	number, sites := map[int32]int32{}, make([]int32, len(stands))
	for i := range stands {
		root := sets.Find(int32(i))
		n, known := number[root]
		if !known {
			n = int32(len(number))
			number[root] = n
		}
		sites[i] = n
	}
	return sites
}

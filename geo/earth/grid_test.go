package earth

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// TestGridFindsAllWithinReach: every point within reach by Distance is found once, also at the
// poles and across the antimeridian.
func TestGridFindsAllWithinReach(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		reach := rapid.Float64Range(0, 300).Draw(r, "reach")
		middle := rapid.SampledFrom([]orb.Point{{0, 0}, {180, 12}, {-180, -60}, {30, 90}, {-118, 34}, {77, -90}}).Draw(r, "middle")
		near := rapid.Float64Range(-0.003, 0.003)
		draw := func() orb.Point {
			lat := max(-90, min(90, middle[1]+near.Draw(r, "lat")))
			return orb.Point{Wrap(middle[0] + near.Draw(r, "lon")), lat}
		}
		points := make([]orb.Point, rapid.IntRange(0, 30).Draw(r, "points"))
		grid := NewGrid(geo.Meters(reach))
		for i := range points {
			points[i] = draw()
			grid.Add(int32(i), points[i])
		}
		from := draw()
		var found []int32
		grid.Near(from, func(i int32) bool { found = append(found, i); return true })
		slices.Sort(found)
		for i, p := range points {
			if n := len(found); n != len(slices.Compact(slices.Clone(found))) {
				r.Fatalf("found twice: %v", found)
			}
			if _, ok := slices.BinarySearch(found, int32(i)); !ok && Distance(from, p) <= geo.Meters(reach) {
				r.Fatalf("%v is %v m from %v and was not found within %v m", p, Distance(from, p), from, reach)
			}
		}
	})
}

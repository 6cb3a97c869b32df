package mapfile

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/internal/stand"
)

// TestUnpackIsPolygons: outlines unpacked one after another in the same memory are the polygons of each:
// with holes, without any, with rings that vanish when rounded, cut at 180 degrees, and cut because of
// their number of vertices.
func TestUnpackIsPolygons(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var u unpacker
		for range rapid.IntRange(1, 6).Draw(t, "outlines") {
			most := rapid.SampledFrom([]int{anyVertices, 5, 9}).Draw(t, "most")
			packed := stand.Pack(drawnAreas(t))
			want := polygons(parted(packed.Polygons(), most))
			if d := cmp.Diff(want, u.unpack(packed, most), cmpopts.EquateEmpty()); d != "" {
				t.Fatal(d)
			}
		}
	})
}

// drawnAreas draws squares side by side, some of them with a hole, at most a few of them tiny or across
// 180 degrees.
func drawnAreas(t *rapid.T) orb.MultiPolygon {
	var mp orb.MultiPolygon
	west := rapid.SampledFrom([]float64{-120, 179.9999, -180.0001}).Draw(t, "west")
	for k := range rapid.IntRange(0, 4).Draw(t, "polygons") {
		at := orb.Point{west + float64(k)*0.01, 35}
		side := rapid.SampledFrom([]float64{0.004, 0.0005, 2e-8}).Draw(t, "side")
		polygon := orb.Polygon{squareRing(at, side)}
		if rapid.Bool().Draw(t, "hole") {
			polygon = append(polygon, squareRing(orb.Point{at[0] + side/4, at[1] + side/4}, side/2))
		}
		mp = append(mp, polygon)
	}
	return mp
}

// squareRing is a ring of eight vertices, half a side apart.
func squareRing(at orb.Point, side float64) orb.Ring {
	var ring orb.Ring
	for _, step := range [][2]float64{{0, 0}, {1, 0}, {2, 0}, {2, 1}, {2, 2}, {1, 2}, {0, 2}, {0, 1}, {0, 0}} {
		ring = append(ring, orb.Point{at[0] + step[0]*side/2, at[1] + step[1]*side/2})
	}
	return ring
}

package shape

import (
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
)

// TestNothingDrawnIsUsedAgain: outlines stay as drawn while others are drawn in the memory of those before, and
// are drawn the same again.
func TestNothingDrawnIsUsedAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.Custom(func(t *rapid.T) orb.Point {
			return orb.Point{float64(rapid.IntRange(0, 200).Draw(t, "x")), float64(rapid.IntRange(0, 200).Draw(t, "y"))}
		})
		var draw []func() orb.MultiPolygon
		for range rapid.IntRange(2, 6).Draw(t, "drawings") {
			discs := manyDiscs(t)
			path := orb.LineString(rapid.SliceOfN(place, 1, 20).Draw(t, "path"))
			draw = append(draw, func() orb.MultiPolygon {
				mp, _ := DrawDiscs(discs, 0.1)
				return append(append(mp, SketchDiscs(discs)...), DrawLines([]orb.LineString{path}, []geo.Meters{7}, 0.1, 1)...)
			})
		}
		drawn, copies := make([]orb.MultiPolygon, len(draw)), make([]orb.MultiPolygon, len(draw))
		for i, one := range draw {
			drawn[i] = one()
			copies[i] = drawn[i].Clone()
		}
		for i, one := range draw {
			if !drawn[i].Equal(copies[i]) || !drawn[i].Equal(one()) {
				t.Fatalf("drawing %d became another", i)
			}
		}
	})
}

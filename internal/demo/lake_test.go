package demo

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

// TestTheLake: the lake has one shore, no islands, and ends at the dam. Its area is about what its
// length and width give. One stream runs through it, and no plant is on open water.
func TestTheLake(t *testing.T) {
	for _, seed := range seeds {
		s := made(seed)
		water := readMap(t, s.Water)
		lake := coordinates[orb.MultiPolygon](t, water[0])
		if len(water) != 1 || len(lake) != 1 || len(lake[0]) != 1 || shape.Valid(lake) != nil {
			t.Fatalf("seed %d: %d waters, %d parts", seed, len(water), len(lake))
		}
		// the first 300 m widen with a square root, so they have two thirds of the full area
		if got, want := float64(earth.Area(lake)), reservoirWidth*(reservoirLength-300/3.0); got > 1.1*want || got < 0.6*want {
			t.Errorf("seed %d: the lake has %.0f m2, want about %.0f", seed, got, want)
		}
		for _, l := range seenLines(t, s) {
			wet := 0.0
			for i := 1; i < len(l.path); i++ {
				a, b := l.path[i-1], l.path[i]
				if shape.Contains(lake, orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}) {
					wet += float64(earth.Distance(a, b))
				}
			}
			switch {
			case l.barrier == "dam":
				end := l.path[len(l.path)-1]
				if away := float64(shape.DistanceToLine(earth.NewFrame(end).Project(lake), orb.LineString{{}})); away > 0.05 {
					t.Errorf("seed %d: the dam is %.2f m from the lake", seed, away)
				}
				if whole := float64(earth.LineLength(l.path)); wet < whole-30 {
					t.Errorf("seed %d: %.0f of %.0f m of the stream above the dam lie on the lake", seed, wet, whole)
				}
			case wet > 0:
				t.Errorf("seed %d: %s runs through the lake for %.0f m", seed, l.id, wet)
			}
		}
	}
}

// TestNoPlantGrowsOnOpenWater: plants are placed beside a reservoir of constant width. The drawn
// shore departs from it by up to 12 % of 80 m; no plant is farther out than that.
func TestNoPlantGrowsOnOpenWater(t *testing.T) {
	for _, seed := range seeds {
		land := settle(seed)
		for _, c := range colonise(dice(seed, 2), land) {
			for _, p := range c.patches {
				if shape.Contains(land.lake, p.at) {
					shore := orb.LineString(land.lake[0][0])
					away := math.Inf(1)
					for i := 1; i < len(shore); i++ {
						away = min(away, math.Hypot(shore[i][0]-p.at[0], shore[i][1]-p.at[1]))
					}
					if away > 10 {
						t.Errorf("seed %d: a plant %.0f m out on the lake", seed, away)
					}
				}
			}
		}
	}
}

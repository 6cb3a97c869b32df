package plan

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/stand"
)

// Squares of 20 m: gaps of 80 m, 80 m and 120 m join three into one site of 100 m and leave the
// fourth alone; with 120.1 m all are one. From the drawing.
func TestSites(t *testing.T) {
	frame := earth.NewFrame(orb.Point{-128, -38})
	var stands []*stand.Stand
	for _, x := range []float64{0, 100, 200, 340} {
		square := orb.Ring{{x, 0}, {x + 20, 0}, {x + 20, 20}, {x, 20}, {x, 0}}
		stands = append(stands, &stand.Stand{Center: frame.Inverse(orb.Point{x + 10, 10}), Footprint: stand.Pack(frame.Unproject(orb.MultiPolygon{{square}}))})
	}
	for distance, want := range map[float64][]int32{100: {0, 0, 0, 1}, 79: {0, 1, 2, 3}, 120.1: {0, 0, 0, 0}} {
		if got := Sites(stands, geo.Meters(distance)); !slices.Equal(got, want) {
			t.Errorf("within %g m: %v, want %v", distance, got, want)
		}
	}
}

// By hand: a stand of 20 m in the hole of another, 30 m from its edge all round and 230 m from its
// outline, is of its site within 100 m, in either order.
func TestSitesInAHole(t *testing.T) {
	frame := earth.NewFrame(orb.Point{-128, -38})
	square := func(half float64) orb.Ring {
		return orb.Ring{{-half, -half}, {half, -half}, {half, half}, {-half, half}, {-half, -half}}
	}
	around := &stand.Stand{Center: frame.Center(), Footprint: stand.Pack(frame.Unproject(orb.MultiPolygon{{square(240), square(40)}}))}
	within := &stand.Stand{Center: frame.Center(), Footprint: stand.Pack(frame.Unproject(orb.MultiPolygon{{square(10)}}))}
	for distance, want := range map[geo.Meters][]int32{29: {0, 1}, 31: {0, 0}, 100: {0, 0}} {
		if a, b := Sites([]*stand.Stand{around, within}, distance), Sites([]*stand.Stand{within, around}, distance); !slices.Equal(a, want) || !slices.Equal(b, want) {
			t.Errorf("within %g m: %v and %v, want %v", float64(distance), a, b, want)
		}
	}
}

package shape

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// By hand: a square of 10 m minus its half, minus an area that contains it, minus an area beside
// it.
func TestDifferenceByHand(t *testing.T) {
	square := func(west, south, east, north float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}}
	}
	a := square(0, 0, 10, 10)
	for _, c := range []struct {
		name string
		b    orb.MultiPolygon
		want float64
	}{
		{"half", square(5, -1, 11, 11), 50},
		{"all", square(-1, -1, 11, 11), 0},
		{"beside", square(20, 0, 30, 10), 100},
		{"a hole", square(4, 4, 6, 6), 96},
		{"nothing", nil, 100},
	} {
		within(t, c.name, Area(Difference(a, c.b)), c.want, 1e-9)
	}
}

// The ground common to two areas and the ground in only one add up to all.
func TestDifferenceAndIntersectionAreAll(t *testing.T) {
	dice := rand.New(rand.NewPCG(11, 5))
	discs := func() orb.MultiPolygon {
		var all []Disc
		for range 1 + dice.IntN(6) {
			all = append(all, Disc{orb.Point{60 * dice.Float64(), 60 * dice.Float64()}, 4 + 12*15*0.1})
		}
		return UnionDiscs(all)
	}
	for range 200 {
		a, b := discs(), discs()
		within(t, "sum", Area(Difference(a, b))+IntersectionArea(a, b), float64(Area(a)), 1e-6)
	}
}

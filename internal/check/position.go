package check

import (
	"math"

	"github.com/paulmach/orb"
)

// Misplaced says why a position in degrees is implausible.
type Misplaced uint8

// The reasons, the most serious first.
const (
	WellPlaced Misplaced = iota
	NotFinite            // a coordinate is NaN or infinite
	NullIsland           // 0, 0: recorded by a GPS unit without a fix
	OutOfRange           // not a latitude and longitude; longitudes may continue past 180, up to 360
)

// PositionOf says whether p is a plausible position, and if not, why.
func PositionOf(p orb.Point) Misplaced {
	switch {
	case math.IsNaN(p[0]-p[0]) || math.IsNaN(p[1]-p[1]):
		return NotFinite
	case p[0] == 0 && p[1] == 0:
		return NullIsland
	case math.Abs(p[0]) > 360 || math.Abs(p[1]) > 90:
		return OutOfRange
	}
	return WellPlaced
}

// PathsOf returns the first implausible position of the paths, and why; WellPlaced if there is none.
func PathsOf[P ~[]orb.Point](paths []P) (orb.Point, Misplaced) {
	for _, path := range paths {
		for _, p := range path {
			if why := PositionOf(p); why != WellPlaced {
				return p, why
			}
		}
	}
	return orb.Point{}, WellPlaced
}

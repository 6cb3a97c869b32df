package check

import (
	"math"

	"github.com/paulmach/orb"
)

// Misplaced is why a position in degrees cannot be one.
type Misplaced uint8

// The reasons, the gravest first that is met.
const (
	WellPlaced Misplaced = iota
	NotFinite            // a coordinate is no finite number
	NullIsland           // 0, 0, which is what a unit without a fix records
	OutOfRange           // no latitude and longitude; longitudes may run on past 180, to 360
)

// PositionOf says whether p can be a position, and why not.
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

// PathsOf returns the first position of the paths that cannot be one, and why;
// WellPlaced when all can.
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

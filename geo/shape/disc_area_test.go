package shape

import (
	"driftreach/geo"
	"math"
)

// Area returns the area of the true circle, 0 for an empty disc.
func (d Disc) Area() geo.SquareMeters {
	if d.empty() {
		return 0
	}
	return geo.SquareMeters(math.Pi * float64(d.Radius) * float64(d.Radius))
}

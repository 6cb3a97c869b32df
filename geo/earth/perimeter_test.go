package earth

import (
	"driftreach/geo"

	"github.com/paulmach/orb"
)

// Perimeter returns the length in metres of a ring of geodesics on the WGS 84
// ellipsoid; an open ring is closed.
func Perimeter(r orb.Ring) geo.Meters {
	if len(r) == 0 {
		return 0
	}
	return LineLength(orb.LineString(r)) + Distance(r[len(r)-1], r[0])
}

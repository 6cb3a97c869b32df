package drift

import "driftreach/geo"

// The units of the drift settings. Each has its own type, so that the compiler rejects a share
// where days are needed.
type (
	// Days is a time afloat.
	Days float64
	// Share is a part of a whole, 0 to 1.
	Share float64
	// MetersPerSecond is a velocity.
	MetersPerSecond float64
)

// Hours returns d in hours.
func (d Days) Hours() geo.Hours { return geo.Hours(d * 24) }

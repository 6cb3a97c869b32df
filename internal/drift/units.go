package drift

import "driftreach/geo"

// The units that drift is set in. Each is a type of its own, so that the compiler
// refuses a share where days are asked for.
type (
	// Kilometers is a length of stream.
	Kilometers float64
	// Days is a time afloat.
	Days float64
	// Hours is a time afloat.
	Hours float64
	// Share is a part of a whole, 0 to 1.
	Share float64
	// MetersPerSecond is a velocity.
	MetersPerSecond float64
)

// Hours returns d in hours.
func (d Days) Hours() Hours { return Hours(d * 24) }

// kilometers returns a length on an edge as one of stream.
func kilometers(m geo.Meters) Kilometers { return Kilometers(m.Kilometers()) }

// Meters returns k in metres, for rates, which are by the metre.
func (k Kilometers) Meters() float64 { return float64(k) * 1000 }

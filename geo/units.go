// Package geo holds the units every other package speaks in, and planar
// measures in the metres of a local frame. It knows geometry and no plants.
package geo

// Meters is a length in metres: on the ellipsoid where a geodesic or an
// ellipsoidal projection made it, in a local frame otherwise.
type Meters float64

// SquareMeters is an area in square metres on the ellipsoid.
type SquareMeters float64

// Acres is an area in international acres.
type Acres float64

// squareMetersPerAcre is exact: 43 560 square international feet of 0.3048 m
// (NIST Special Publication 811, appendix B).
const squareMetersPerAcre = 4046.8564224

// Kilometers returns m in kilometres.
func (m Meters) Kilometers() float64 { return float64(m) / 1000 }

// Acres returns a in international acres.
func (a SquareMeters) Acres() Acres { return Acres(float64(a) / squareMetersPerAcre) }

// SquareMeters returns a in square metres.
func (a Acres) SquareMeters() SquareMeters { return SquareMeters(float64(a) * squareMetersPerAcre) }

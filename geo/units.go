// Package geo holds the units every other package speaks in, and planar
// measures in the metres of a local frame. It knows geometry and no plants.
package geo

import "math"

// Meters is a length in metres: on the ellipsoid where a geodesic or an
// ellipsoidal projection made it, in a local frame otherwise.
type Meters float64

// SquareMeters is an area in square metres on the ellipsoid.
type SquareMeters float64

// Acres is an area in international acres.
type Acres float64

// Kilometers is a length along streams in kilometres, as rivers are measured.
type Kilometers float64

// Hours is a time under way in hours.
type Hours float64

// grainsPerAcre makes a grain 0.4 square millimetres. Our choice: a million grains
// are a plant of 0.4 m2, and up to 900 million acres fit.
const grainsPerAcre = 1e10

// GrainDecimals is how many decimals of an acre a grain is.
const GrainDecimals = 10

// squareMetersPerAcre is exact: 43 560 square international feet of 0.3048 m
// (NIST Special Publication 811, appendix B).
const squareMetersPerAcre = 4046.8564224

// Kilometers returns m in kilometres.
func (m Meters) Kilometers() Kilometers { return Kilometers(m / 1000) }

// Meters returns k in metres.
func (k Kilometers) Meters() Meters { return Meters(k * 1000) }

// Acres returns a in international acres.
func (a SquareMeters) Acres() Acres { return Acres(float64(a) / squareMetersPerAcre) }

// Grains returns a in whole grains, 1e-10 acre, half away from zero: the unit that
// areas are summed in, so fine that a sum is that of the exact areas, and whole, so
// that it is the same in any order. 0 for what is no number or above 900 million
// acres.
func (a SquareMeters) Grains() int64 {
	n := math.Round(float64(a.Acres()) * grainsPerAcre)
	if !(math.Abs(n) < math.MaxInt64) {
		return 0
	}
	return int64(n)
}

// OfGrains returns an area given in grains, from which Grains returns the
// same number.
func OfGrains(n int64) SquareMeters {
	return Acres(float64(n) / grainsPerAcre).SquareMeters()
}

// SquareMeters returns a in square metres.
func (a Acres) SquareMeters() SquareMeters { return SquareMeters(float64(a) * squareMetersPerAcre) }

// Steps returns a length rounded to whole steps of m, half away from zero; a length above
// 0 is at least one step. m is above 0.
func (m Meters) Steps(k Kilometers) Kilometers {
	n := math.Round(float64(k.Meters() / m))
	if n == 0 && k > 0 {
		n = 1
	}
	return Meters(n * float64(m)).Kilometers()
}

// Package geo holds the units that all other packages use, and planar measures in the metres of a
// local frame. It knows geometry, nothing about plants.
package geo

import "math"

// Meters is a length in metres: on the ellipsoid for geodesics and ellipsoidal projections,
// otherwise in a local frame.
type Meters float64

// SquareMeters is an area in square metres on the ellipsoid.
type SquareMeters float64

// Acres is an area in international acres.
type Acres float64

// Kilometers is a length along streams in kilometres, as rivers are measured.
type Kilometers float64

// SquareKilometers is the area of a catchment in square kilometres.
type SquareKilometers float64

// Hours is a travel time in hours.
type Hours float64

// MetersPerSecond is a velocity.
type MetersPerSecond float64

// CubicMetersPerSecond is a discharge.
type CubicMetersPerSecond float64

// Share is a part of a whole, 0 to 1.
type Share float64

// grainsPerAcre makes a grain 0.4 square millimetres. Our choice: a plant of 0.4 m2 is a million
// grains, and areas up to 900 million acres fit.
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

// Grains returns a in whole grains of 1e-10 acre, half away from zero. Areas are summed in grains:
// fine enough that the sum equals that of the exact areas, and whole numbers, so that any order
// gives the same sum. 0 for an area that is not a number or above 900 million acres.
func (a SquareMeters) Grains() int64 {
	n := math.Round(float64(a.Acres()) * grainsPerAcre)
	if !(math.Abs(n) < math.MaxInt64) {
		return 0
	}
	return int64(n)
}

// OfGrains returns an area given in grains; its Grains returns the same number.
func OfGrains(n int64) SquareMeters {
	return Acres(float64(n) / grainsPerAcre).SquareMeters()
}

// SquareMeters returns a in square metres.
func (a Acres) SquareMeters() SquareMeters { return SquareMeters(float64(a) * squareMetersPerAcre) }

// Steps returns a length rounded to whole steps of m, half away from zero; a length above 0 is at
// least one step. m must be above 0.
func (m Meters) Steps(k Kilometers) Kilometers {
	n := math.Round(float64(k.Meters() / m))
	if n == 0 && k > 0 {
		n = 1
	}
	return Meters(n * float64(m)).Kilometers()
}

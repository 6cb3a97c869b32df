package result

// Unit is the unit of a printed field. It decides the number of decimals: one rule for each unit, in
// every file.
//
// A figure is rounded once. Acres are summed exactly, in grains, and printed parts are made to add up
// to the rounded whole (see allocate.ToTotal); the batch decides their number of decimals (see
// AcreDecimals). For other units every sum is the sum of the rounded figures. It differs from the exact
// sum by at most half a last digit for each row. So the rows of a table add up to its total digit by
// digit, and the parts of a stand never exceed the whole (rounding keeps the order).
type Unit string

// The units.
const (
	NoUnit           Unit = ""
	Acres            Unit = "acres"         // international acres, 4 decimals (0.4 m2) or more, see AcreDecimals
	Kilometers       Unit = "km"            // 4 decimals: 0.1 m
	Feet             Unit = "ft"            // 1 decimal: international feet of 0.3048 m
	Miles            Unit = "mi"            // 4 decimals: international miles of 5280 ft
	Meters           Unit = "m"             // 2 decimals: 1 cm, the step of the coordinates
	SquareMeters     Unit = "m2"            // 2 decimals
	SquareKilometers Unit = "km2"           // 4 decimals
	Percent          Unit = "%"             // 1 decimal
	AcreFeetYearly   Unit = "acre-ft/yr"    // 3 decimals
	Index            Unit = "index"         // relative amount of fragments, 6 decimals
	IndexKm          Unit = "index x km"    // amount of fragments times length, 6 decimals
	Hours            Unit = "h"             // 2 decimals: half a minute
	MetersPerSecond  Unit = "m/s"           // 2 decimals: a wind meter shows tenths
	Celsius          Unit = "°C"            // 1 decimal
	Amount           Unit = "as entered"    // of a product, 4 decimals, in the unit of its row
	Money            Unit = "as the budget" // 4 decimals; as acres where no cost is set, since money is acres then
	Probability      Unit = "probability"   // 6 decimals
	Degrees          Unit = "degrees"       // 7 decimals: 1 cm (RFC 7946, section 11.2, needs no more)
)

// Decimals returns the number of decimals for unit u. The numbers are our choice: fine enough that a
// sum of ten thousand rows is accurate to a thousandth, coarse enough to read.
func (u Unit) Decimals() uint8 {
	switch u {
	case Acres, Kilometers, Miles, SquareKilometers, Amount, Money:
		return 4
	case Meters, SquareMeters, Hours, MetersPerSecond:
		return 2
	case Percent, Celsius, Feet:
		return 1
	case AcreFeetYearly:
		return 3
	case Index, IndexKm, Probability:
		return 6
	case Degrees:
		return 7
	}
	return 0
}

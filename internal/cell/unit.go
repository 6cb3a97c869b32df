package cell

import "slices"

// Dimension is what a unit measures.
type Dimension uint8

const (
	aLength Dimension = iota + 1
	anArea
	aRatio
	aSpeed
	aFlow
	aTime
	aTemperature
	aDate
)

// Unit is a unit of measure: what it measures and its size in metres, square metres, ones,
// metres per second, cubic metres per second, hours or degrees Celsius.
type Unit struct {
	Of   Dimension
	Size float64
}

// The sizes of feet, inches, yards, miles and acres are exact (NIST Special
// Publication 811, appendix B; the U.S. survey foot is 1200/3937 m).
const (
	foot       = 0.3048
	surveyFoot = 1200.0 / 3937
	inch       = 0.0254
	yard       = 0.9144
	mile       = 1609.344
	acre       = 43_560 * foot * foot
	fahrenheit = 5.0 / 9 // of a degree Celsius; 32 °F are 0 °C (likewise)
)

// unitWords are the words for units, in small letters.
var unitWords = map[string]Unit{
	"m": {aLength, 1}, "meter": {aLength, 1}, "meters": {aLength, 1}, "metre": {aLength, 1}, "metres": {aLength, 1},
	"mm": {aLength, 0.001}, "cm": {aLength, 0.01}, "dm": {aLength, 0.1}, "km": {aLength, 1000},
	"ft": {aLength, foot}, "foot": {aLength, foot}, "feet": {aLength, foot}, "'": {aLength, foot}, "ft_us": {aLength, surveyFoot},
	"in": {aLength, inch}, "inch": {aLength, inch}, "inches": {aLength, inch}, "\"": {aLength, inch},
	"yd": {aLength, yard}, "yard": {aLength, yard}, "yards": {aLength, yard}, "mi": {aLength, mile}, "mile": {aLength, mile}, "miles": {aLength, mile},

	"m2": {anArea, 1}, "m²": {anArea, 1}, "sqm": {anArea, 1}, "sq m": {anArea, 1}, "square meters": {anArea, 1}, "square metres": {anArea, 1},
	"cm2": {anArea, 1e-4}, "ha": {anArea, 1e4}, "hectare": {anArea, 1e4}, "hectares": {anArea, 1e4}, "km2": {anArea, 1e6}, "km²": {anArea, 1e6}, "sqkm": {anArea, 1e6}, "sq km": {anArea, 1e6},
	"ft2": {anArea, foot * foot}, "ft²": {anArea, foot * foot}, "sqft": {anArea, foot * foot}, "sq ft": {anArea, foot * foot}, "sf": {anArea, foot * foot}, "square feet": {anArea, foot * foot},
	"in2": {anArea, inch * inch}, "yd2": {anArea, yard * yard}, "sqyd": {anArea, yard * yard}, "square yards": {anArea, yard * yard},
	"ac": {anArea, acre}, "acre": {anArea, acre}, "acres": {anArea, acre}, "mi2": {anArea, mile * mile}, "sqmi": {anArea, mile * mile}, "sq mi": {anArea, mile * mile}, "square miles": {anArea, mile * mile},

	"%": {aRatio, 0.01}, "percent": {aRatio, 0.01}, "pct": {aRatio, 0.01}, "share": {aRatio, 1}, "fraction": {aRatio, 1}, "m/m": {aRatio, 1}, "ft/ft": {aRatio, 1}, "permille": {aRatio, 0.001}, "m/km": {aRatio, 0.001},

	"m/s": {aSpeed, 1}, "mps": {aSpeed, 1}, "cm/s": {aSpeed, 0.01}, "km/h": {aSpeed, 1 / 3.6}, "ft/s": {aSpeed, foot}, "fps": {aSpeed, foot}, "mph": {aSpeed, mile / 3600}, "mi/h": {aSpeed, mile / 3600},
	"kmh": {aSpeed, 1 / 3.6}, "kph": {aSpeed, 1 / 3.6}, "kn": {aSpeed, 1852.0 / 3600}, "kt": {aSpeed, 1852.0 / 3600}, "kts": {aSpeed, 1852.0 / 3600}, "knots": {aSpeed, 1852.0 / 3600},

	"m3/s": {aFlow, 1}, "m³/s": {aFlow, 1}, "cms": {aFlow, 1}, "l/s": {aFlow, 0.001}, "ft3/s": {aFlow, foot * foot * foot}, "ft³/s": {aFlow, foot * foot * foot}, "cfs": {aFlow, foot * foot * foot},

	"h": {aTime, 1}, "hr": {aTime, 1}, "hrs": {aTime, 1}, "hour": {aTime, 1}, "hours": {aTime, 1}, "min": {aTime, 1.0 / 60}, "mins": {aTime, 1.0 / 60}, "minutes": {aTime, 1.0 / 60},

	"c": {aTemperature, 1}, "°c": {aTemperature, 1}, "degc": {aTemperature, 1}, "deg c": {aTemperature, 1}, "celsius": {aTemperature, 1},
	"f": {aTemperature, fahrenheit}, "°f": {aTemperature, fahrenheit}, "degf": {aTemperature, fahrenheit}, "deg f": {aTemperature, fahrenheit}, "fahrenheit": {aTemperature, fahrenheit},
}

// The units that our fields are in.
var (
	Metre               = Unit{aLength, 1}
	Kilometre           = Unit{aLength, 1000}
	SquareMetre         = Unit{anArea, 1}
	SquareKilometre     = Unit{anArea, 1e6}
	Acres               = Unit{anArea, acre}
	Share               = Unit{aRatio, 1}
	Percent             = Unit{aRatio, 0.01}
	MetrePerSecond      = Unit{aSpeed, 1}
	CubicMetrePerSecond = Unit{aFlow, 1}
	Hour                = Unit{aTime, 1}
	Celsius             = Unit{aTemperature, 1}
	Day                 = Unit{aDate, 1} // for dates, whose unit is their order
)

// Fahrenheit is the only unit whose zero differs from that of our unit.
var Fahrenheit = Unit{aTemperature, fahrenheit}

// FindUnit returns the unit that a word in small letters names; false for none.
func FindUnit(word string) (Unit, bool) {
	unit, known := unitWords[word]
	return unit, known
}

// UnitsOf returns the words for the units of a dimension, sorted.
func UnitsOf(d Dimension) []string {
	var words []string
	for word, m := range unitWords { // sorted below
		if m.Of == d {
			words = append(words, word)
		}
	}
	slices.Sort(words)
	return words
}

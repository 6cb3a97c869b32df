package intake

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/survey"
)

// dimension is what a unit measures.
type dimension uint8

const (
	aLength dimension = iota + 1
	anArea
	aRatio
	aSpeed
	aFlow
	aTime
	aTemperature
	aDate
)

// measure is a unit: what it measures and how many of metres, square metres,
// ones, metres a second, cubic metres a second, hours or degrees Celsius it is.
type measure struct {
	of   dimension
	size float64
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
	fahrenheit = 5.0 / 9 // of a degree Celsius; 32 of them are 0 (likewise)
)

// unitWords are the words for units, in small letters.
var unitWords = map[string]measure{
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
	metre               = measure{aLength, 1}
	kilometre           = measure{aLength, 1000}
	squareMetre         = measure{anArea, 1}
	squareKilometre     = measure{anArea, 1e6}
	acres               = measure{anArea, acre}
	share               = measure{aRatio, 1}
	percent             = measure{aRatio, 0.01}
	metrePerSecond      = measure{aSpeed, 1}
	cubicMetrePerSecond = measure{aFlow, 1}
	hour                = measure{aTime, 1}
	celsius             = measure{aTemperature, 1}
	day                 = measure{aDate, 1} // of dates, whose unit is their order
)

// What the fields of all roles hold, by their names.
var (
	fieldUnits = map[string]measure{}
	dateFields []string
	knownWords = map[string]theirs{}
)

func init() { // the roles' readers lead back here
	for _, r := range Roles() {
		for _, f := range r.fields {
			switch f.in.of {
			case 0:
			case aDate:
				dateFields = append(dateFields, f.name)
			default:
				fieldUnits[f.name] = f.in
			}
			for word, other := range f.words { // into a map
				if knownWords[f.name] == nil {
					knownWords[f.name] = theirs{}
				}
				knownWords[f.name][word] = other
			}
		}
	}
}

// dateOrders are the words for how the dates of a column are written, which
// [units] takes like a unit.
var dateOrders = map[string]survey.DateOrder{"day first": survey.DayFirst, "month first": survey.MonthFirst}

// isDate says whether a field holds dates; case does not matter.
func isDate(field string) bool {
	return slices.ContainsFunc(dateFields, func(name string) bool { return strings.EqualFold(name, field) })
}

// scale makes a column's numbers ours.
type scale struct{ factor, zero float64 }

var asItIs = scale{factor: 1}

func (s scale) of(v float64) float64 { return v*s.factor + s.zero }

// scaleOf is UnitFactor for units whose 0 may be another than ours.
func scaleOf(field, unit string) (scale, error) {
	factor, err := UnitFactor(field, unit)
	s := scale{factor: factor}
	if strings.EqualFold(field, "temperature_c") && factor == fahrenheit {
		s.zero = -32 * fahrenheit
	}
	return s, err
}

// UnitFactor returns what a column in a unit, such as "ft2", is multiplied by to
// be in the unit of one of our fields. Case does not matter in either. The unit of
// dates is their order, "day first" or "month first", and the factor 1. That of an
// amount of a product is a word that is carried as it stands: the factor is 1.
func UnitFactor(field, unit string) (float64, error) {
	if strings.EqualFold(field, amountField) {
		return 1, nil
	}
	if isDate(field) {
		if dateOrders[strings.ToLower(strings.TrimSpace(unit))] == survey.NoOrder {
			return 0, fmt.Errorf("%q is no order of dates; it may be day first or month first", unit)
		}
		return 1, nil
	}
	for name, ours := range fieldUnits { // one at most
		if !strings.EqualFold(name, field) {
			continue
		}
		theirs, known := unitWords[strings.ToLower(strings.TrimSpace(unit))]
		if !known || theirs.of != ours.of {
			return 0, fmt.Errorf("%q is no unit of %s; it may be %s", unit, name, strings.Join(unitsOf(ours.of), ", "))
		}
		if theirs.size == ours.size {
			return 1, nil
		}
		return theirs.size / ours.size, nil
	}
	return 0, fmt.Errorf("%s has no unit", field)
}

// unitsOf returns the words for a dimension, sorted.
func unitsOf(d dimension) []string {
	var words []string
	for word, m := range unitWords { // sorted below
		if m.of == d {
			words = append(words, word)
		}
	}
	slices.Sort(words)
	return words
}

// order returns how the dates of a field are written.
func (m Mapping) order(field string) survey.DateOrder {
	return dateOrders[strings.ToLower(strings.TrimSpace(m.unit(field)))]
}

// check returns what is wrong with the units of the fields, nil when nothing is.
func (m Mapping) check(fields []fieldName) error {
	for _, f := range fields {
		if unit := m.unit(f.name); unit != "" {
			if _, err := UnitFactor(f.name, unit); err != nil {
				return err
			}
		}
	}
	return nil
}

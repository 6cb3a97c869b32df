package treatment

import (
	"fmt"
	"math"

	"driftreach/internal/check"
)

// The bounds of what a row of work may tell. What lies beyond is a mistake in the
// unit, or a number that stands for unknown, and is left out. Our choices:
const (
	// MostAcres is about what a crew of ten treats in a season; square feet read as
	// acres lie beyond it from a quarter of an acre on.
	MostAcres = 10_000
	// mostAmount lets ounces and millilitres of a season's product pass.
	mostAmount = 1_000_000
	// mostWind is beyond a hurricane (33 m/s); no work is done there.
	mostWind = 40
	// leastTemperature and mostTemperature are near the coldest and the hottest that
	// crews work in; degrees Fahrenheit read as Celsius mostly lie beyond.
	leastTemperature, mostTemperature = -30, 55
	// mostHours is forty people for two days and a half, in one row of one day.
	mostHours = 1000
)

// Bounds returns what a column of a figure may be, as Check holds it: above low, or from
// low on where it is not open, up to high. It is false for other columns.
func Bounds(column string) (low, high float64, openLow, ok bool) {
	switch column {
	case "treated_acres":
		return 0, MostAcres, true, true
	case "amount":
		return 0, mostAmount, true, true
	case "wind_mps":
		return 0, mostWind, false, true
	case "temperature_c":
		return leastTemperature, mostTemperature, false, true
	case "hours":
		return 0, mostHours, true, true
	}
	return 0, 0, false, false
}

// bound leaves out measures that cannot be, and reports work without acres.
func (c *checker) bound(a *Treatment) {
	switch acres := a.TreatedAcres; {
	case math.IsNaN(acres):
		c.Report(a, ruleNoAcres, "treated_acres", "", "the work gives no treated_acres; it counts as work of unknown acres, not as 0")
	case !(acres > 0) || math.IsInf(acres, 1):
		c.Report(a, ruleAcres, "treated_acres", fmt.Sprint(acres), "treated_acres is not above 0; the value was left out, and the work counts as work of unknown acres")
		a.TreatedAcres = math.NaN()
	case acres > MostAcres:
		c.beyond(a, &a.TreatedAcres, "treated_acres", fmt.Sprintf("above %d acres", MostAcres))
	}
	if x := a.Amount; !math.IsNaN(x) && !(x > 0 && x <= mostAmount) {
		c.beyond(a, &a.Amount, "amount", fmt.Sprintf("not above 0 and up to %d", mostAmount))
	}
	if x := a.Wind; !math.IsNaN(x) && !(x >= 0 && x <= mostWind) {
		c.beyond(a, &a.Wind, "wind_mps", fmt.Sprintf("not 0 to %d m/s", mostWind))
	}
	if x := a.Temperature; !math.IsNaN(x) && !(x >= leastTemperature && x <= mostTemperature) {
		c.beyond(a, &a.Temperature, "temperature_c", fmt.Sprintf("not %d to %d degrees Celsius", leastTemperature, mostTemperature))
	}
	if x := a.Hours; !math.IsNaN(x) && !(x > 0 && x <= mostHours) {
		c.beyond(a, &a.Hours, "hours", fmt.Sprintf("not above 0 and up to %d", mostHours))
	}
}

// beyond leaves out a measure beyond its bound.
func (c *checker) beyond(a *Treatment, x *float64, field, why string) {
	c.Report(a, ruleBound, field, check.Digits(*x, 10), field+" is "+why+"; the value was left out")
	*x = math.NaN()
}

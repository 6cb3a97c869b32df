package treatment

import (
	"fmt"
	"math"

	"driftreach/internal/check"
)

// The limits of a row's values. A value beyond its limit is in the wrong unit, or a code for
// unknown, and is left out. Our choices:
const (
	// MostAcres is about what a crew of ten treats in a season; square feet read as acres exceed it
	// from a quarter of an acre on.
	MostAcres = 10_000
	// mostAmount allows a season's product in ounces or millilitres.
	mostAmount = 1_000_000
	// mostWind is stronger than a hurricane (33 m/s); no work is done then.
	mostWind = 40
	// leastTemperature and mostTemperature are about the coldest and hottest in which crews work;
	// most temperatures in degrees Fahrenheit read as Celsius are beyond.
	leastTemperature, mostTemperature = -30, 55
	// mostHours is two and a half days' work of forty people, in one row for one day.
	mostHours = 1000
)

// Bounds returns the limits that Check uses for a numeric column: above low, or from low if openLow
// is false, up to high. ok is false for other columns.
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

// bound leaves out values beyond their limits, and reports work without acres.
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

// beyond leaves out a value beyond its limit.
func (c *checker) beyond(a *Treatment, x *float64, field, why string) {
	c.Report(a, ruleBound, field, check.Digits(*x, 10), field+" is "+why+"; the value was left out")
	*x = math.NaN()
}

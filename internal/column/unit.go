package column

import (
	"fmt"
	"strings"

	"driftreach/internal/cell"
	"driftreach/internal/survey"
)

// dateOrders are the words for the two orders of day and month; [units] accepts them like a unit.
var dateOrders = map[string]survey.DateOrder{"day first": survey.DayFirst, "month first": survey.MonthFirst}

// Order returns the order in which the dates of a field are written.
func (m Mapping) Order(field string) survey.DateOrder {
	return dateOrders[strings.ToLower(strings.TrimSpace(m.unit(field)))]
}

// Unit returns the unit of the field, such as "m2"; false if the field is not a measure.
func (f Field) Unit() (unit string, measured bool) {
	if !f.Measured() {
		return "", false
	}
	for _, word := range []string{"m2", "m", "%", "km2", "km", "ac", "share", "m/s", "m3/s", "h", "c"} {
		if unit, _ := cell.FindUnit(word); unit == f.In {
			return word, true
		}
	}
	return "", false
}

// Factor returns the factor from a column's unit, such as "ft2", to the unit of the field, ignoring
// case. The unit of dates is their order, "day first" or "month first", with factor 1. A field that is
// carried as written accepts any word as its unit, with factor 1.
func (f Field) Factor(unit string) (float64, error) {
	switch {
	case f.AsWritten:
		return 1, nil
	case f.Dated():
		if dateOrders[strings.ToLower(strings.TrimSpace(unit))] == survey.NoOrder {
			return 0, fmt.Errorf("%q is no order of dates; it may be day first or month first", unit)
		}
		return 1, nil
	case !f.Measured():
		return 0, fmt.Errorf("%s has no unit", f.Name)
	}
	theirs, known := cell.FindUnit(strings.ToLower(strings.TrimSpace(unit)))
	if !known || theirs.Of != f.In.Of {
		return 0, fmt.Errorf("%q is no unit of %s; it may be %s", unit, f.Name, strings.Join(cell.UnitsOf(f.In.Of), ", "))
	}
	if theirs.Size == f.In.Size {
		return 1, nil
	}
	return theirs.Size / f.In.Size, nil
}

// scale converts a column's numbers to our unit.
type scale struct{ factor, zero float64 }

var asItIs = scale{factor: 1}

func (s scale) of(v float64) float64 { return v*s.factor + s.zero }

// scaleOf is Factor for units whose zero may differ from that of ours.
func (f Field) scaleOf(unit string) (scale, error) {
	factor, err := f.Factor(unit)
	s := scale{factor: factor}
	if f.In == cell.Celsius && factor == cell.Fahrenheit.Size {
		s.zero = -32 * cell.Fahrenheit.Size
	}
	return s, err
}

// Check returns an error if the units of the fields are wrong, else nil.
func (m Mapping) Check(fields []Field) error {
	for _, f := range fields {
		if unit := m.unit(f.Name); unit != "" {
			if _, err := f.Factor(unit); err != nil {
				return err
			}
		}
	}
	return nil
}

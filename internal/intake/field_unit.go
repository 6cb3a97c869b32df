package intake

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/cell"
	"driftreach/internal/survey"
)

// What the fields of all roles hold, by their names.
var (
	fieldUnits = map[string]cell.Unit{}
	dateFields []string
	knownWords = map[string]theirs{}
)

func init() { // the roles' readers lead back here
	for _, r := range Roles() {
		for _, f := range r.fields {
			switch f.in {
			case cell.Unit{}:
			case cell.Day:
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
	if strings.EqualFold(field, "temperature_c") && factor == cell.Fahrenheit.Size {
		s.zero = -32 * cell.Fahrenheit.Size
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
		theirs, known := cell.FindUnit(strings.ToLower(strings.TrimSpace(unit)))
		if !known || theirs.Of != ours.Of {
			return 0, fmt.Errorf("%q is no unit of %s; it may be %s", unit, name, strings.Join(cell.UnitsOf(ours.Of), ", "))
		}
		if theirs.Size == ours.Size {
			return 1, nil
		}
		return theirs.Size / ours.Size, nil
	}
	return 0, fmt.Errorf("%s has no unit", field)
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

package intake

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/column"
)

// These find a field by its name alone, in any input: settings and the output of check give
// only the name. A name is the same field in every role (TestFieldsOfOneName).

// fieldsNamed returns the field with this name in each role that has one; case does not
// matter.
func fieldsNamed(name string) []column.Field {
	var out []column.Field
	for _, r := range Roles() {
		for _, f := range r.fields {
			if strings.EqualFold(f.Name, name) {
				out = append(out, f)
			}
		}
	}
	return out
}

// UnitFactor returns the factor from a column's unit, such as "ft2", to the unit of one of our
// fields, as column.Field.Factor does. Case does not matter in either name.
func UnitFactor(field, unit string) (float64, error) {
	fields := fieldsNamed(field)
	if len(fields) == 0 {
		return 0, fmt.Errorf("%s has no unit", field)
	}
	return fields[0].Factor(unit)
}

// UnitSaid says whether the name of a column for a field gives its unit.
func UnitSaid(field, name string) bool {
	return slices.ContainsFunc(fieldsNamed(field), func(f column.Field) bool { return f.UnitSaid(name) })
}

// HasUnit says whether a field is a measure, and in which unit it is, as in "m2".
func HasUnit(field string) (unit string, has bool) {
	fields := fieldsNamed(field)
	if len(fields) == 0 {
		return "", false
	}
	return fields[0].Unit()
}

// ProposedWord returns our word for a column's word that is not understood, by the words of
// survey sheets; blank for none.
func ProposedWord(field, word string) string {
	for _, f := range fieldsNamed(field) {
		if ours := f.Word(word); ours != "" {
			return ours
		}
	}
	return ""
}

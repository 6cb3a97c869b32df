package intake

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/column"
)

// These functions find a field by its name alone, in any input, because settings and the output of
// check give only the name. A name means the same field in every role (TestFieldsOfOneName).

// fieldsNamed returns the field with this name in each role that has one, ignoring case.
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

// UnitFactor returns the factor from a column's unit, such as "ft2", to the unit of one of our fields,
// as column.Field.Factor does. It ignores case in both names.
func UnitFactor(field, unit string) (float64, error) {
	fields := fieldsNamed(field)
	if len(fields) == 0 {
		return 0, fmt.Errorf("%s has no unit", field)
	}
	return fields[0].Factor(unit)
}

// UnitSaid says whether a column name for a field contains its unit.
func UnitSaid(field, name string) bool {
	return slices.ContainsFunc(fieldsNamed(field), func(f column.Field) bool { return f.UnitSaid(name) })
}

// HasUnit returns the unit of a field, such as "m2"; false if the field is not a measure.
func HasUnit(field string) (unit string, has bool) {
	fields := fieldsNamed(field)
	if len(fields) == 0 {
		return "", false
	}
	return fields[0].Unit()
}

// ProposedWord returns our word for an unknown word of a column, if survey sheets use it; blank for
// none.
func ProposedWord(field, word string) string {
	for _, f := range fieldsNamed(field) {
		if ours := f.Word(word); ours != "" {
			return ours
		}
	}
	return ""
}

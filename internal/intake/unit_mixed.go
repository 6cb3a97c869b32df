package intake

import (
	"fmt"

	"driftreach/internal/cell"
	"driftreach/internal/format"
)

// unitsSaid counts the numbers of a field that have a unit beside them in the cell,
// and the plain ones.
type unitsSaid struct{ named, plain int }

// quantityOf reads a cell that is no plain number for a field: the value in our
// unit. A unit in the cell goes before the column's.
func (r *featureReader) quantityOf(f *format.Feature, text []byte, at int, s scale) (v float64, told string, ok bool) {
	field := r.binding.fields[at].name
	q, ok := cell.ParseQuantityIn(f, text, r.Comma)
	if !ok {
		return nan, "", false
	}
	if q.Unit != "" {
		if _, measured := fieldUnits[field]; !measured {
			return nan, "", false
		}
		own, err := scaleOf(field, q.Unit)
		if err != nil {
			return nan, "", false
		}
		s = own
		r.said[at].named++
		r.said[at].plain--
	}
	return s.of(q.Value), q.Told, true
}

// reportMixedUnits tells of columns in which some cells name a unit and others do
// not, where neither the settings nor the column's name say in which those are.
func (r *featureReader) reportMixedUnits() {
	for i, s := range r.said {
		field := r.binding.fields[i].name
		unit, measured := HasUnit(field)
		if s.named == 0 || s.plain == 0 || !measured || r.options.Mapping.unit(field) != "" {
			continue
		}
		for _, c := range r.binding.columns[i] {
			if c.rank < ours && !UnitSaid(field, c.name) {
				r.ReportFile(ruleUnitMixed, field, c.name, fmt.Sprintf("%d cells of the column %q name a unit and %d do not; those were read in %s", s.named, c.name, s.plain, unit))
				break
			}
		}
	}
}

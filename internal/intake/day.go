package intake

import (
	"time"

	"driftreach/internal/cell"
	"driftreach/internal/format"
)

// days reads a date and returns the first and the last day it covers; zero for none.
func (r *featureReader) days(f *format.Feature, field int) (first, last time.Time) {
	text := r.columns.Cell(f, field)
	if cell.IsBlank(text) {
		return
	}
	name := r.columns.FieldName(field)
	first, last, serial, err := cell.ParseDays(string(text), r.options.Mapping.Order(name))
	if err != nil {
		r.report(f, ruleDate, name, string(text), "the date cannot be read; it was left out")
		return time.Time{}, time.Time{}
	}
	if serial {
		r.serials.count(name, string(text), first.Format(time.DateOnly))
	}
	return first, last
}

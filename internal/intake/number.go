package intake

import (
	"fmt"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/format"
)

// number reads a field as a number; NaN if there is none.
func (r *featureReader) number(f *format.Feature, field int) float64 {
	n := r.columns.Number(f, field, r.Comma)
	switch {
	case n.Kind == cell.BadNumber:
		r.reportNumber(f, ruleNumber, field, n.Text, "is no number; the value was left out")
	case n.Kind == cell.NotFinite:
		r.reportNumber(f, ruleNotFinite, field, n.Text, "is not a finite number; the value was left out")
	case n.Told != "":
		r.reportNumber(f, ruleApproximate, field, n.Text, fmt.Sprintf("was read as %s, %s", check.Digits(n.Value, 6), n.Told))
	}
	return n.Value
}

func (r *featureReader) reportNumber(f *format.Feature, rule check.Rule, field int, text []byte, message string) {
	name := r.columns.FieldName(field)
	r.report(f, rule, name, string(text), name+" "+message)
}

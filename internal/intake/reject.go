package intake

import (
	"driftreach/internal/check"
	"driftreach/internal/format"
)

// report reports one record.
func (r *featureReader) report(f *format.Feature, rule check.Rule, field, value, message string) {
	r.Log.Add(check.Finding{Rule: rule, File: r.Name, Record: r.label(f), Field: field, Value: format.Shorten(value), Message: message})
}

// reject counts and reports a record that is lost.
func (r *featureReader) reject(f *format.Feature, rule check.Rule, field, value, message string) {
	r.file.Read++
	r.file.Rejected++
	if message != r.lost.message { // a wrong file often has the same error a hundred thousand times
		r.lost.message, r.lost.whole = message, message+"; the record was rejected"
	}
	r.report(f, rule, field, value, r.lost.whole)
}

// rejectShape rejects a feature whose geometry cannot be used, and returns whether it did.
func (r *featureReader) rejectShape(f *format.Feature, wanted shapeKinds) bool {
	s := &f.Shape
	switch {
	case s.Kind != format.NoShape && !wanted.has(s.Kind):
		r.wrongKind++
		r.reject(f, ruleKind("give the input as "+wanted.String()), "geometry", s.Name, "the geometry is a "+s.Name)
	case s.Wrong != "":
		r.reject(f, ruleMalformed, "geometry", "", s.Wrong)
	case s.Kind != format.NoShape && len(s.Points) == 0:
		r.reject(f, ruleEmpty, "geometry", s.Name, "the geometry has no positions")
	default:
		return false
	}
	return true
}

// rejectFeature rejects a feature that cannot be read or whose geometry cannot be used, and returns
// whether it did.
func (r *featureReader) rejectFeature(f *format.Feature, wanted shapeKinds) bool {
	if f.Wrong == "" {
		return r.rejectShape(f, wanted)
	}
	rule := ruleUnreadable
	if r.Tabular() {
		rule = ruleRagged
	}
	r.reject(f, rule, "", "", f.Wrong)
	return true
}

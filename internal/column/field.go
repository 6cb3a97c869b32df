// Package column understands the columns of a file of any format: which of them hold which of
// our fields and in which unit, by the settings and by name; what the other columns seem to
// hold; and which words occur in columns of words. It defines what a field is but no fields:
// each reader of records brings its own.
package column

import (
	"slices"

	"driftreach/internal/cell"
)

// Field is one of our fields and the other names it is known by.
type Field struct {
	Name      string
	Also      []string
	In        cell.Unit // the unit of its numbers; day for dates, nothing for texts
	AsWritten bool      // its numbers are a measure whose unit is carried and not converted to ours
	Words     Theirs    // of a field of words; nil for other fields
	Decides   bool      // figures depend on it, though it is no measure and survey sheets have no words for it
}

// Theirs are the words of survey sheets by our word, in the form that plain gives [C].
type Theirs map[string][]string

// Dated says whether the field holds dates.
func (f Field) Dated() bool { return f.In == cell.Day }

// Measured says whether the field holds a measure in a unit of ours.
func (f Field) Measured() bool { return f.In != cell.Unit{} && !f.Dated() }

// Word returns our word for one that is not understood, by the words of survey sheets; blank
// for none.
func (f Field) Word(word string) string {
	for ours, theirs := range f.Words { // one at most
		if slices.Contains(theirs, plain(word)) {
			return ours
		}
	}
	return ""
}

// FieldNames returns our names of fields, in order.
func FieldNames(fields []Field) []string {
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = f.Name
	}
	return out
}

// Package column understands the columns of a file of any format: which of them hold
// which of our fields, in which unit, by the settings and by name; what those that are
// none of ours seem to hold; and which words come in columns of words. It knows what a
// field is and none of the fields: each reader of records brings its own.
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
	AsWritten bool      // its numbers are a measure whose unit is carried and not made ours
	Words     Theirs    // of a field of words; nil for any other
	Decides   bool      // figures hang on it, though it is no measure and survey sheets have no words for it
}

// Theirs are other people's words, by our word: those of survey sheets, as plain keeps
// them [C].
type Theirs map[string][]string

// Dated says whether the field holds dates.
func (f Field) Dated() bool { return f.In == cell.Day }

// Measured says whether the field holds a measure in a unit of ours.
func (f Field) Measured() bool { return f.In != cell.Unit{} && !f.Dated() }

// Word returns our word for a word that is not understood, by what survey sheets say;
// blank for none.
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

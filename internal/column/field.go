// Package column finds out what the columns of a file hold, in any format. It decides from the settings
// and the column names which columns hold our fields, and in which unit. It also looks at what the
// other columns seem to hold, and counts the words in columns of words. It defines what a field is but
// no fields: each reader of records brings its own.
package column

import (
	"slices"

	"driftreach/internal/cell"
)

// Field is one of our fields, with the other names it may have.
type Field struct {
	Name      string
	Also      []string
	In        cell.Unit // the unit of its numbers; day for dates, nothing for texts
	AsWritten bool      // its numbers keep the unit they were written in
	Words     Theirs    // of a field of words; nil for other fields
	Decides   bool      // figures depend on it, although it is neither a measure nor one of the fields of words
}

// Theirs are the words used on survey sheets for each of our words, in the form that plain returns [C].
type Theirs map[string][]string

// Dated says whether the field holds dates.
func (f Field) Dated() bool { return f.In == cell.Day }

// Measured says whether the field holds a measure in one of our units.
func (f Field) Measured() bool { return f.In != cell.Unit{} && !f.Dated() }

// Word returns our word for a word found on survey sheets; blank if it is not known.
func (f Field) Word(word string) string {
	for ours, theirs := range f.Words { // at most one matches
		if slices.Contains(theirs, plain(word)) {
			return ours
		}
	}
	return ""
}

// FieldNames returns our names of the fields, in order.
func FieldNames(fields []Field) []string {
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = f.Name
	}
	return out
}

package column

import "slices"

// Columns holds what is known about the columns of one file; it grows as the file is read.
type Columns struct {
	*binding
	wordCounts
	recognised []Recognised
	looked     int         // features so far
	samples    []sample    // by column: what was seen in those carried
	said       []unitsSaid // by field
	proposals  []Proposal
}

// unitsSaid counts the numbers of a field with a unit in their cell, and those without.
type unitsSaid struct{ named, plain int }

// New returns the columns of a file yet to be read, whose records have the fields. Columns
// that the mapping names come first, then those of our own names. Columns with names in known
// are only proposed, never taken unless the settings name them.
func New(fields []Field, known []Recognised, m Mapping) *Columns {
	return &Columns{
		binding: newBinding(fields, m), wordCounts: newWordCounts(fields),
		recognised: known, said: make([]unitsSaid, len(fields)),
	}
}

// Check returns what is wrong with the settings of the columns, nil when nothing is.
func (c *Columns) Check() error { return c.mapping.Check(c.fields) }

// fieldOf returns the index of the field with this name; -1 for none.
func (c *Columns) fieldOf(name string) int {
	return slices.IndexFunc(c.fields, func(f Field) bool { return f.Name == name })
}

package column

import "slices"

// Columns is what is understood of the columns of one file, and grows as it is read.
type Columns struct {
	*binding
	wordCounts
	recognised []Recognised
	looked     int         // features so far
	samples    []sample    // by column: what was seen of those carried
	said       []unitsSaid // by field
	proposals  []Proposal
}

// unitsSaid counts the numbers of a field that have a unit beside them in the cell,
// and the plain ones.
type unitsSaid struct{ named, plain int }

// New returns the columns of a file yet to be read, whose records have the fields:
// those that the mapping names, then those of our own names. known are names of
// columns that are proposed, and never taken without being asked.
func New(fields []Field, known []Recognised, m Mapping) *Columns {
	return &Columns{
		binding: newBinding(fields, m), wordCounts: newWordCounts(fields),
		recognised: known, said: make([]unitsSaid, len(fields)),
	}
}

// Check returns what is wrong with what the settings say of the columns, nil when
// nothing is.
func (c *Columns) Check() error { return c.mapping.Check(c.fields) }

// fieldOf returns the place of a field; -1 for none of that name.
func (c *Columns) fieldOf(name string) int {
	return slices.IndexFunc(c.fields, func(f Field) bool { return f.Name == name })
}

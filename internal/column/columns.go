package column

import "slices"

// Columns holds what is known about the columns of one file. It grows as the file is read.
type Columns struct {
	*binding
	wordCounts
	recognised []Recognised
	looked     int         // features so far
	samples    []sample    // by carried column: the texts seen
	said       []unitsSaid // by field
	proposals  []Proposal
}

// New prepares to read the columns of a file whose records have the given fields. Columns that the
// mapping names come first, then those with our own names. Columns with names in known are only
// proposed, and used only if the settings name them.
func New(fields []Field, known []Recognised, m Mapping) *Columns {
	return &Columns{
		binding: newBinding(fields, m), wordCounts: newWordCounts(fields),
		recognised: known, said: make([]unitsSaid, len(fields)),
	}
}

// Check returns an error if the settings of the columns are wrong, else nil.
func (c *Columns) Check() error { return c.mapping.Check(c.fields) }

// fieldOf returns the index of the field with this name; -1 for none.
func (c *Columns) fieldOf(name string) int {
	return slices.IndexFunc(c.fields, func(f Field) bool { return f.Name == name })
}

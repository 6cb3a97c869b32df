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

// unitsSaid counts the numbers of a field with and without a unit in their cell; of those without, the
// ones between 0 and 1, and the ones above 1.
type unitsSaid struct{ named, plain, between, above int }

// count counts a number without a unit.
func (s *unitsSaid) count(v float64) {
	s.plain++
	switch {
	case v > 1:
		s.above++
	case v > 0 && v < 1:
		s.between++
	}
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

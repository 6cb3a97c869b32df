package result

// Field is one entry of the data dictionary: a property of a layer, a column of a table and a line of
// the glossary at once.
type Field struct {
	Name       string // as written in the files
	Label      string // for readers: in map balloons and table headings
	Unit       Unit
	Kind       Kind
	Definition string // one sentence; says when the value is blank
	Origin     string // source of the rule or figure: [P] published, [C] common practice, [A] assumed; blank for an input value

	// Value returns the field's value for row i of the run's table.
	Value func(run *Run, i int) Value
}

// Title returns the label with its unit.
func (f Field) Title() string {
	if f.Unit == NoUnit || f.Unit == Index {
		return f.Label
	}
	return f.Label + " (" + string(f.Unit) + ")"
}

// Table is one kind of output row with its fields, in printed order.
type Table struct {
	Name   string // file name without ending
	Title  string // what a row is, for readers
	Fields []Field
	Rows   int
}

// Row returns the values of row i, in the order of the fields; buf is reused.
func (t Table) Row(run *Run, i int, buf []Value) []Value {
	buf = buf[:0]
	for k := range t.Fields {
		buf = append(buf, t.Cell(run, i, k))
	}
	return buf
}

// Cell returns the value of field k of row i, coarsened if run is a public edition.
func (t Table) Cell(run *Run, i, k int) Value {
	v := t.Fields[k].Value(run, i)
	if run == nil || run.Coarse == 0 {
		return v
	}
	return run.coarsened(t.Name, t.Fields[k].Unit, v)
}

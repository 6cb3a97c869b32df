package report

// Grid is a table of the page. The first column is the heading of its row.
type Grid struct {
	ID      string
	Caption string
	Quiet   bool // the section's heading says it, so the caption is for screen readers only
	Head    []Column
	Rows    []Line
	Foot    []Line // totals
}

// Column is the heading of a column.
type Column struct {
	Label   string
	Numeric bool // aligned right
}

// Line is one row.
type Line struct {
	Cells []Cell
	Alert bool // marks the row for the reader's attention
}

// Cell is one cell: a figure, or text.
type Cell struct {
	Text    string
	Number  Number
	IsText  bool
	Numeric bool // aligned right
	Whole   bool // not broken over lines, such as an id or a date
}

// words is a cell of text.
func words(s string) Cell { return Cell{Text: s, IsText: true} }

// whole is a cell of text kept on one line.
func whole(s string) Cell { return Cell{Text: s, IsText: true, Whole: true} }

// numericWords is a text cell that consists of figures.
func numericWords(s string) Cell { return Cell{Text: s, IsText: true, Numeric: true} }

// amount is a cell with a figure whose unit is in the column heading.
func amount(n Number) Cell { n.Unit = ""; return Cell{Number: n, Numeric: true} }

// heads makes columns from labels. Labels that begin with # are for numeric columns.
func heads(labels ...string) []Column {
	out := make([]Column, len(labels))
	for i, l := range labels {
		if len(l) > 0 && l[0] == '#' {
			out[i] = Column{Label: l[1:], Numeric: true}
			continue
		}
		out[i] = Column{Label: l}
	}
	return out
}

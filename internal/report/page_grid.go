package report

// Grid is a table of the page. The first column heads its row.
type Grid struct {
	ID      string
	Caption string
	Quiet   bool // the heading says it: the caption is for those who hear the page
	Head    []Column
	Rows    []Line
	Foot    []Line // totals
}

// Column is the head of a column.
type Column struct {
	Label   string
	Numeric bool // set to the right
}

// Line is one row.
type Line struct {
	Cells []Cell
	Alert bool // wants the reader's eye
}

// Cell is one cell: a figure, or text.
type Cell struct {
	Text    string
	Number  Number
	IsText  bool
	Numeric bool // set to the right
	Whole   bool // not broken over lines: an identity, a date
}

// words is a cell of text.
func words(s string) Cell { return Cell{Text: s, IsText: true} }

// whole is a cell of text kept on one line.
func whole(s string) Cell { return Cell{Text: s, IsText: true, Whole: true} }

// numericWords is a cell of figures put together.
func numericWords(s string) Cell { return Cell{Text: s, IsText: true, Numeric: true} }

// amount is a cell with a figure; its unit stands in the head.
func amount(n Number) Cell { n.Unit = ""; return Cell{Number: n, Numeric: true} }

// heads makes columns of labels; those that begin with # are numeric.
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

// Package grid has the code shared by tables of rows and cells, in text files and in spreadsheets.
package grid

import (
	"fmt"
	"strings"

	"driftreach/internal/format"
)

// Grid is a table of rows and cells, from a text file or a spreadsheet: a header, perhaps a title above
// it, and perhaps a column of geometries.
type Grid struct {
	*format.Reading
	Cells []format.Cell // of the row
	srid  int           // reference system (SRID) of the geometries; 0 for none
}

// MostTitle is the number of lines in which the header is looked for. Our choice: a title, a date, a
// blank line and a few remarks.
const MostTitle = 12

// HeaderBelow returns the row number of the header if the first row is a title, and 0 if the first row
// is the header. It decides by how many cells of each row are filled.
func HeaderBelow(counts []int) int {
	most := counts[0]
	for k := 1; k+1 < len(counts); k++ {
		if n := counts[k]; n >= 2*most && n > 2 && 2*counts[k+1] > n {
			return k
		}
		most = max(most, counts[k])
	}
	return 0
}

// NameColumns makes a column of each cell of the header.
func (c *Grid) NameColumns() error {
	if len(c.Cells) > c.Limits.Columns {
		return c.Unusable("header", fmt.Sprintf("%d columns are more than the limit of %d", len(c.Cells), c.Limits.Columns), "remove columns, or raise limits.columns")
	}
	for i, cell := range c.Cells {
		name := strings.TrimSpace(string(cell.Text))
		if name == "" {
			name = fmt.Sprintf("column %d", i+1)
		}
		if _, taken := c.Schema.Index[name]; taken {
			c.ReportFile(format.RuleHeaderTwice, name, "", "the header has "+name+" twice; the first is used and the other carried")
			for n := 2; taken; n++ {
				next := fmt.Sprintf("%s~%d", name, n)
				if _, taken = c.Schema.Index[next]; !taken {
					name = next
				}
			}
		}
		c.Schema.Add(name)
	}
	return nil
}

// Fits says whether the row has a cell for each column of the header and only blank cells beyond them,
// as spreadsheets leave.
func (c *Grid) Fits(columns int) bool {
	if len(c.Cells) < columns {
		return false
	}
	for _, cell := range c.Cells[columns:] {
		if len(cell.Text) > 0 {
			return false
		}
	}
	return true
}

// Blank says whether all cells of the row are blank.
func (c *Grid) Blank() bool {
	for _, cell := range c.Cells {
		if len(cell.Text) > 0 {
			return false
		}
	}
	return true
}

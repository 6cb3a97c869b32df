// Package grid holds what rows of cells have in common, whether of a text or of a
// sheet.
package grid

import (
	"fmt"
	"strings"

	"driftreach/internal/format"
)

// Grid is what rows of cells have in common, whether of a text or of a sheet: a
// header, perhaps a title above it, and perhaps a column of geometries.
type Grid struct {
	*format.Reading
	Cells []format.Cell // of the row
	srid  int           // that the geometries name; 0 for none
}

// MostTitle is how many lines are looked at for the header. Our choice: a title, a
// date, a blank line and a few of remarks.
const MostTitle = 12

// HeaderBelow returns which row is the header, by how many cells of each are filled,
// where the first is a title; 0 where that is the header itself.
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

// NameColumns makes the header's cells the columns.
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

// Fits says whether the row has the header's cells; blank ones beyond it, as
// spreadsheets leave them, do not count.
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

// Blank says whether no cell of the row holds anything.
func (c *Grid) Blank() bool {
	for _, cell := range c.Cells {
		if len(cell.Text) > 0 {
			return false
		}
	}
	return true
}

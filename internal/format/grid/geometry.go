package grid

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/format"
	"driftreach/internal/format/wellknown"
)

// FindGeometry finds the column of geometries by its name; whether it holds any
// is seen row by row.
func (c *Grid) FindGeometry() {
	c.GeometryColumn = -1
	for i, name := range c.Schema.Names {
		if c.GeometryColumn < 0 && slices.Contains(wellknown.ColumnNames, strings.ToLower(name)) {
			c.GeometryColumn = i
		}
	}
}

// ReadShape reads the row's geometry and blanks its cell. A cell that holds
// something else, such as the word for a form, stays a cell.
func (c *Grid) ReadShape(f *format.Feature) error {
	f.Shape.Reset()
	k := c.GeometryColumn
	if k < 0 || k >= len(f.Cells) || f.Wrong != "" || !wellknown.IsText(f.Cells[k].Text) {
		return nil
	}
	srid := wellknown.ReadText(f.Cells[k].Text, &f.Shape, c.Limits.Vertices)
	f.Cells[k] = format.Cell{}
	if srid == 0 || c.srid == srid {
		return nil
	}
	if c.srid != 0 {
		f.Shape.Wrong = fmt.Sprintf("the geometry is in the reference system %d, those before it in %d", srid, c.srid)
		return nil
	}
	c.srid = srid
	return c.Refer(format.RowName(f.Row), fmt.Sprintf("EPSG:%d", srid))
}

package grid

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/format"
	"driftreach/internal/format/wellknown"
)

// FindGeometry finds the geometry column by its name. Each row is checked later for whether it holds a
// geometry.
func (c *Grid) FindGeometry() {
	c.GeometryColumn = -1
	for i, name := range c.Schema.Names {
		if c.GeometryColumn < 0 && slices.Contains(wellknown.ColumnNames, strings.ToLower(name)) {
			c.GeometryColumn = i
		}
	}
}

// ReadShape reads the row's geometry and blanks its cell. A cell that holds something else, such as a
// word for a growth form, is left as text.
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

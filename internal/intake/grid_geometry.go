package intake

import (
	"driftreach/internal/format"
	"fmt"
	"slices"
	"strings"
)

// findGeometry finds the column of geometries by its name; whether it holds any
// is seen row by row.
func (c *grid) findGeometry() {
	c.GeometryColumn = -1
	for i, name := range c.Schema.Names {
		if c.GeometryColumn < 0 && slices.Contains(geometryNames, strings.ToLower(name)) {
			c.GeometryColumn = i
		}
	}
}

// readShape reads the row's geometry and blanks its cell. A cell that holds
// something else, such as the word for a form, stays a cell.
func (c *grid) readShape(f *format.Feature) error {
	f.Shape.Reset()
	k := c.GeometryColumn
	if k < 0 || k >= len(f.Cells) || f.Wrong != "" || !isGeometryText(f.Cells[k].Text) {
		return nil
	}
	srid := readGeometryText(f.Cells[k].Text, &f.Shape, c.Limits.Vertices)
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

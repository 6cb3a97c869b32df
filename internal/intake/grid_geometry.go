package intake

import (
	"fmt"
	"slices"
	"strings"
)

// findGeometry finds the column of geometries by its name; whether it holds any
// is seen row by row.
func (c *grid) findGeometry() {
	c.geometryColumn = -1
	for i, name := range c.schema.names {
		if c.geometryColumn < 0 && slices.Contains(geometryNames, strings.ToLower(name)) {
			c.geometryColumn = i
		}
	}
}

// readShape reads the row's geometry and blanks its cell. A cell that holds
// something else, such as the word for a form, stays a cell.
func (c *grid) readShape(f *feature) error {
	f.shape.reset()
	k := c.geometryColumn
	if k < 0 || k >= len(f.cells) || f.wrong != "" || !isGeometryText(f.cells[k].text) {
		return nil
	}
	srid := readGeometryText(f.cells[k].text, &f.shape, c.limits.Vertices)
	f.cells[k] = cell{}
	if srid == 0 || c.srid == srid {
		return nil
	}
	if c.srid != 0 {
		f.shape.wrong = fmt.Sprintf("the geometry is in the reference system %d, those before it in %d", srid, c.srid)
		return nil
	}
	c.srid = srid
	return c.refer(rowName(f.row), fmt.Sprintf("EPSG:%d", srid))
}

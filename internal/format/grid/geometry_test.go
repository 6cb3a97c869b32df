package grid

import (
	"testing"

	"driftreach/internal/format"
)

// TestWhichColumnIsTheGeometry: the first of a usual name, the first column of a table too; where there
// is none a geometry in a cell is a text like any other, and a row that is too short has none.
func TestWhichColumnIsTheGeometry(t *testing.T) {
	for _, c := range []struct {
		name   string
		header []string
		column int
		row    []string
		points int
		texts  string
	}{
		{"the first column", []string{"WKT", "geom"}, 0, []string{"POINT(1 2)", "POINT(3 4)"}, 1, "|POINT(3 4)"},
		{"the second", []string{"id", "the_geom"}, 1, []string{"7", "POINT(1 2)"}, 1, "7|"},
		{"none", []string{"POINT(9 9)", "place"}, -1, []string{"POINT(1 2)", "POINT(3 4)"}, 0, "POINT(1 2)|POINT(3 4)"},
		{"a short row", []string{"id", "note", "shape"}, 2, []string{"7", "x"}, 0, "7|x"},
		{"an empty row", []string{"geom"}, 0, nil, 0, ""},
		{"a word", []string{"geom", "id"}, 0, []string{"clump", "7"}, 0, "clump|7"},
	} {
		g := grid(9, c.header...)
		if err := g.NameColumns(); err != nil {
			t.Fatal(err)
		}
		f := &format.Feature{Row: 1, Cells: row(c.row...)}
		if g.FindGeometry(); g.GeometryColumn != c.column {
			t.Errorf("%s: column %d, want %d", c.name, g.GeometryColumn, c.column)
		}
		if err := g.ReadShape(f); err != nil {
			t.Error(err)
		}
		texts := ""
		for i, cell := range f.Cells {
			if i > 0 {
				texts += "|"
			}
			texts += string(cell.Text)
		}
		if len(f.Shape.Points) != c.points || texts != c.texts {
			t.Errorf("%s: %v, %q", c.name, f.Shape.Points, texts)
		}
	}
}

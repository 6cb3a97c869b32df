package grid

import (
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/format"
)

// row returns cells of these texts.
func row(texts ...string) []format.Cell {
	cells := make([]format.Cell, len(texts))
	for i, text := range texts {
		cells[i].Text = []byte(text)
	}
	return cells
}

// TestRowsAndTheirHeader: which rows of a sheet are blank, and which have the header's three columns;
// cells beyond the header count only if filled.
func TestRowsAndTheirHeader(t *testing.T) {
	for _, c := range []struct {
		row         []format.Cell
		fits, blank bool
	}{
		{row("a", "b", "c"), true, false},
		{row("", "", "c"), true, false},
		{row("a", "b"), false, false},
		{row("a", "b", "c", ""), true, false},
		{row("a", "b", "c", "", ""), true, false},
		{row("a", "b", "c", "d"), false, false},
		{row("a", "b", "c", "", "d"), false, false},
		{row("", "", ""), true, true},
		{row("", ""), false, true},
		{row(), false, true},
		{row("", "", "", " "), false, false},
	} {
		g := Grid{Cells: c.row}
		if got := g.Fits(3); got != c.fits {
			t.Errorf("%q fits three columns: %v, want %v", c.row, got, c.fits)
		}
		if got := g.Blank(); got != c.blank {
			t.Errorf("%q is blank: %v, want %v", c.row, got, c.blank)
		}
	}
}

// TestHeaderBelow finds the header under a title: it has twice the cells of all rows
// above, more than two, and more than half of them are filled in the row below it.
func TestHeaderBelow(t *testing.T) {
	for _, c := range []struct {
		counts []int
		want   int
	}{
		{[]int{5, 5, 5}, 0},
		{[]int{1, 5, 5}, 1},
		{[]int{1, 0, 5, 5}, 2},
		{[]int{2, 4, 4}, 1},
		{[]int{2, 3, 3}, 0},    // not twice the title's
		{[]int{1, 2, 2}, 0},    // two columns are no header
		{[]int{1, 3, 2}, 1},    // two of three
		{[]int{1, 4, 2}, 0},    // half is too few
		{[]int{1, 5}, 0},       // nothing below it
		{[]int{1, 2, 3, 3}, 0}, // three is not twice two
		{[]int{1, 2, 4, 4}, 2},
	} {
		if got := HeaderBelow(c.counts); got != c.want {
			t.Errorf("HeaderBelow(%d) = %d, want %d", c.counts, got, c.want)
		}
	}
}

// grid returns a grid whose header is these cells, with limits on columns.
func grid(columns int, header ...string) *Grid {
	limits := format.DefaultLimits()
	limits.Columns = columns
	return &Grid{Cells: row(header...), Reading: &format.Reading{Name: "finds.csv", Limits: limits, Log: &check.Log{}, Bound: func(string) bool { return false }}}
}

// TestNameColumns names columns by their heads: blank ones by their place, the second
// of a name with a number, each told once; more than the limit are refused.
func TestNameColumns(t *testing.T) {
	g := grid(6, " id ", "", "note", "note", "note", "note~2")
	if err := g.NameColumns(); err != nil {
		t.Fatal(err)
	}
	if got, want := strings.Join(g.Schema.Names, "|"), "id|column 2|note|note~2|note~3|note~2~2"; got != want {
		t.Errorf("columns %s, want %s", got, want)
	}
	if got := len(g.Log.Findings()); got == 0 {
		t.Error("a head that stands twice is not told")
	}
	for _, columns := range []int{5, 7} {
		err := grid(columns, "a", "b", "c", "d", "e", "f").NameColumns()
		if (err != nil) != (columns < 6) {
			t.Errorf("six columns where %d are allowed: %v", columns, err)
		}
		if err != nil && !strings.Contains(err.Error(), fmt.Sprintf("6 columns are more than the limit of %d", columns)) {
			t.Errorf("error %q does not say how many", err)
		}
	}
}

// TestReadShape reads geometries of a column of EWKT: the reference system that the
// first names holds for all, and one of another system is wrong.
func TestReadShape(t *testing.T) {
	g := grid(4, "id", "Geometry", "wkt")
	if err := g.NameColumns(); err != nil {
		t.Fatal(err)
	}
	if g.FindGeometry(); g.GeometryColumn != 1 {
		t.Fatalf("the geometries are in column %d, want 1", g.GeometryColumn)
	}
	read := func(text string) *format.Feature {
		f := &format.Feature{Row: 2, Cells: row("7", text)}
		if err := g.ReadShape(f); err != nil {
			t.Fatal(err)
		}
		return f
	}
	f := read("SRID=4326;POINT(10 50)")
	if f.Shape.Wrong != "" || len(f.Shape.Points) != 1 || f.Shape.Points[0] != [2]float64{10, 50} {
		t.Errorf("read %v, %q", f.Shape.Points, f.Shape.Wrong)
	}
	if len(f.Cells[1].Text) > 0 || string(f.Cells[0].Text) != "7" {
		t.Errorf("cells are %q: the geometry's is blank, the others stay", f.Cells)
	}
	if f := read("SRID=3857;POINT(10 50)"); !strings.Contains(f.Shape.Wrong, "reference system 3857, those before it in 4326") {
		t.Errorf("another reference system: %q", f.Shape.Wrong)
	}
	if f := read("POINT(11 51)"); f.Shape.Wrong != "" || len(f.Shape.Points) != 1 {
		t.Errorf("no reference system: %v, %q", f.Shape.Points, f.Shape.Wrong)
	}
	if f := read("clump"); string(f.Cells[1].Text) != "clump" || len(f.Shape.Points) != 0 {
		t.Errorf("a word became %v, cell %q", f.Shape.Points, f.Cells[1].Text)
	}
	wrong := &format.Feature{Row: 3, Wrong: "too few cells", Cells: row("8", "POINT(1 2)")}
	if err := g.ReadShape(wrong); err != nil || len(wrong.Shape.Points) > 0 {
		t.Errorf("a row that is wrong has the shape %v, %v", wrong.Shape.Points, err)
	}
}

package format

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/internal/check"
)

// TestJoin: the second geometry of a kind makes a multi geometry, and one of another kind makes none
// that is supported.
func TestJoin(t *testing.T) {
	single := map[ShapeKind]ShapeKind{PointShape: MultiPointShape, LineShape: MultiLineShape, PolygonShape: MultiPolygonShape}
	for kind, multi := range single {
		var s Shape
		if s.Join(kind, "Thing"); s.Kind != kind || s.Name != "Thing" {
			t.Errorf("one of kind %d: %d, %s", kind, s.Kind, s.Name)
		}
		for range 2 {
			if s.Join(kind, "Thing"); s.Kind != multi || s.Name != "MultiThing" {
				t.Errorf("several of kind %d: %d, %s", kind, s.Kind, s.Name)
			}
		}
		for other := range single {
			before := s
			if before.Join(other, "Other"); other != kind && (before.Kind != OtherShape || before.Name != "collection of different geometries") {
				t.Errorf("kinds %d and %d: %d, %s", kind, other, before.Kind, before.Name)
			}
		}
	}
}

// TestParts: a part begins where the one before it ends, and nothing is left after a reset.
func TestParts(t *testing.T) {
	var s Shape
	for i := range 3 {
		for k := range i + 1 {
			s.Add(orb.Point{float64(i), float64(k)})
		}
		s.EndPart()
	}
	s.EndPolygon()
	for i := range 3 {
		if part := s.Part(i); len(part) != i+1 || part[0] != (orb.Point{float64(i), 0}) {
			t.Errorf("part %d: %v", i, part)
		}
	}
	s.Wrong, s.Name, s.Kind = "x", "x", PolygonShape
	if s.Reset(); len(s.Points)+len(s.Parts)+len(s.Polygons) > 0 || s.Wrong+s.Name != "" || s.Kind != NoShape {
		t.Errorf("%+v", s)
	}
}

// TestSortRings: polygons of rings in any order (ESRI Shapefile Technical Description, 1998, page 8):
// clockwise rings are outer ones, in their order, each with its holes behind it; an island in a lake is
// a polygon of its own, and its hole is of the smallest ring around it; rings that turn the other way
// and lie in none are outer ones. By hand.
func TestSortRings(t *testing.T) {
	square := func(x, y, side float64, clockwise bool) []orb.Point {
		ring := []orb.Point{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}
		if clockwise {
			slices.Reverse(ring)
		}
		return ring
	}
	outer, lake, island, pond := square(0, 0, 10, true), square(1, 1, 8, false), square(2, 2, 6, true), square(3, 3, 1, false)
	far, farHole, alone := square(20, 0, 4, true), square(21, 1, 1, false), square(40, 0, 1, false)
	for _, c := range []struct {
		name  string
		rings [][]orb.Point
		want  [][][]orb.Point
	}{
		{"one", [][]orb.Point{outer}, [][][]orb.Point{{outer}}},
		{"a hole first", [][]orb.Point{lake, outer}, [][][]orb.Point{{outer, lake}}},
		{"an island", [][]orb.Point{pond, outer, island, lake}, [][][]orb.Point{{outer, lake}, {island, pond}}},
		{"the island first", [][]orb.Point{island, outer, lake, pond}, [][][]orb.Point{{island, pond}, {outer, lake}}},
		{"two", [][]orb.Point{farHole, outer, far, lake}, [][][]orb.Point{{outer, lake}, {far, farHole}}},
		{"reversed", [][]orb.Point{alone, outer}, [][][]orb.Point{{alone}, {outer}}},
		{"none", nil, [][][]orb.Point{{}}},
	} {
		var s Shape
		for _, ring := range c.rings {
			for _, p := range ring {
				s.Add(p)
			}
			s.EndPart()
		}
		s.SortRings()
		var got [][][]orb.Point
		part := 0
		for _, end := range s.Polygons {
			polygon := [][]orb.Point{}
			for ; part < end; part++ {
				polygon = append(polygon, s.Part(part))
			}
			got = append(got, polygon)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
	// the area of the unit triangle, by its turn; a ring with a place without a number has none
	for _, c := range []struct {
		ring []orb.Point
		want float64
	}{
		{[]orb.Point{{5, 5}, {6, 5}, {5, 6}, {5, 5}}, 0.5}, {[]orb.Point{{5, 5}, {5, 6}, {6, 5}}, -0.5}, {[]orb.Point{{0, 0}, {2, 0}, {2, 3}, {0, 3}}, 6}, {[]orb.Point{{0, 0}, {math.NaN(), 0}, {2, 3}}, 0}, {nil, 0},
	} {
		if got := turning(c.ring); got != c.want {
			t.Errorf("%v has area %v, want %v", c.ring, got, c.want)
		}
	}
}

// TestLayout: texts in the order of the columns, the first that is not blank of each; the row counts on.
func TestLayout(t *testing.T) {
	var l Layout
	for row := 1; row <= 2; row++ {
		l.Begin()
		for _, put := range []struct {
			column int
			text   string
		}{{3, " d "}, {1, ""}, {1, " b"}, {1, "second"}, {0, "a"}} {
			l.Put(put.column, []byte(put.text))
		}
		l.PutNumber(4, -0.30)
		l.PutNumber(5, 1e21)
		f := l.Finish()
		var got []string
		for _, cell := range f.Cells {
			got = append(got, string(cell.Text))
		}
		if strings.Join(got, "|") != "a|b||d|-0.3|1000000000000000000000" || f.Row != row {
			t.Errorf("row %d: %q", f.Row, got)
		}
		f.ID, f.Wrong = append(f.ID, 'x'), "x"
		f.Shape.Add(orb.Point{})
	}
	if l.Begin(); len(l.Feature.ID)+len(l.Feature.Cells)+len(l.Feature.Shape.Points)+len(l.Text) > 0 || l.Feature.Wrong != "" || l.Feature.Row != 2 {
		t.Errorf("%+v", l.Feature)
	}
}

// TestSchema: a column is found by its name, in any order, and added where it is new; of two that were
// added with one name the first is found.
func TestSchema(t *testing.T) {
	var s Schema
	for _, c := range []struct {
		name string
		want int
	}{{"a", 0}, {"b", 1}, {"c", 2}, {"a", 0}, {"b", 1}, {"c", 2}, {"c", 2}, {"a", 0}, {"c", 2}, {"d", 3}, {"a", 0}} {
		if got := s.Find([]byte(c.name)); got != c.want {
			t.Errorf("%s is column %d, want %d", c.name, got, c.want)
		}
	}
	if at := s.Add("a"); at != 4 || s.Find([]byte("a")) != 0 || strings.Join(s.Names, "") != "abcda" {
		t.Errorf("column %d, %q", at, s.Names)
	}
}

// TestMeasured: rows of so many bytes pass while they come to 16 MiB or to less than the limit's times
// the size of the file; a row counts 256 bytes, a position 16 and a text its own.
func TestMeasured(t *testing.T) {
	for _, c := range []struct {
		name      string
		f         Feature
		rowBytes  int64
		expansion int
		size      int64
	}{
		{"rows", Feature{}, 256, 10, 1 << 20}, {"texts", Feature{Cells: []Cell{{[]byte("abcd")}, {}, {[]byte(strings.Repeat("x", 252))}}}, 512, 20, 1 << 20},
		{"positions", Feature{Shape: Shape{Points: make([]orb.Point, 16)}}, 512, 30, 1 << 20}, {"no size", Feature{}, 256, 1, 0},
	} {
		r := &Reading{Name: "a.gpkg", Limits: Limits{Expansion: c.expansion}, Log: &check.Log{}}
		passed := int64(0)
		take := Measured(r, c.size, func(*Feature) error { passed++; return nil })
		var err error
		for err == nil && passed < 1<<18 {
			c.f.Row++
			err = take(&c.f)
		}
		most := max(FreeExpansion/c.rowBytes, (int64(c.expansion)*c.size+c.rowBytes-1)/c.rowBytes-1)
		want := fmt.Sprintf("a.gpkg, row %d: the rows come to more than %d times the size of the file", most+1, c.expansion)
		if passed != most || err == nil || err.Error() != want {
			t.Errorf("%s: %d passed, %v, want %d, %s", c.name, passed, err, most, want)
		}
	}
	r := &Reading{Limits: DefaultLimits()}
	if err := Measured(r, 1, func(*Feature) error { return io.ErrClosedPipe })(&Feature{}); err != io.ErrClosedPipe {
		t.Errorf("an error of take: %v", err)
	}
}

// TestLimits: those by default are valid, each at 1 too, and at 0 the message names it.
func TestLimits(t *testing.T) {
	if err := DefaultLimits().Validate(); err != nil {
		t.Error(err)
	}
	for name, set := range map[string]func(*Limits, int){
		"bytes": func(l *Limits, n int) { l.Bytes = int64(n) }, "member bytes": func(l *Limits, n int) { l.MemberBytes = int64(n) }, "members": func(l *Limits, n int) { l.Members = n },
		"expansion": func(l *Limits, n int) { l.Expansion = n }, "records": func(l *Limits, n int) { l.Records = n }, "record bytes": func(l *Limits, n int) { l.RecordBytes = n },
		"vertices": func(l *Limits, n int) { l.Vertices = n }, "columns": func(l *Limits, n int) { l.Columns = n }, "nesting": func(l *Limits, n int) { l.Nesting = n },
	} {
		for n, want := range map[int]string{1: "<nil>", 0: "limit of " + name + " is 0, not above 0", -1: "limit of " + name + " is -1, not above 0"} {
			l := DefaultLimits()
			set(&l, n)
			if got := fmt.Sprint(l.Validate()); got != want {
				t.Errorf("%s, want %s", got, want)
			}
		}
	}
	// these are written in the reference of settings, in MiB and thousands
	want := Limits{Bytes: 65536 << 20, MemberBytes: 4096 << 20, Members: 10000, Expansion: 200, Records: 50e6, RecordBytes: 16 << 20, Vertices: 10e6, Columns: 2000, Nesting: 100, FindingsAlike: 1000}
	if got := DefaultLimits(); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// TestDays: the first and the last day number that is read as a date, by the epoch (ECMA-376 part 1,
// 18.17.4.1).
func TestDays(t *testing.T) {
	for days, want := range map[int]string{FirstSerial: "2000-01-01", LastSerial: "2099-12-31", 61: "1900-03-01"} {
		if got := SerialEpoch.AddDate(0, 0, days).Format("2006-01-02"); got != want {
			t.Errorf("day %d is %s, want %s", days, got, want)
		}
	}
}

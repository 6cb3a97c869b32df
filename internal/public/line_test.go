package public

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// inSquares returns places in squares of the grid, counted from the equator and Greenwich.
func inSquares(g grid, path orb.LineString) [][2]float64 {
	var out [][2]float64
	for _, p := range path {
		xy := g.plane.Forward(p)
		out = append(out, [2]float64{math.Round(1e6*xy[0]/g.side) / 1e6, math.Round(1e6*xy[1]/g.side) / 1e6})
	}
	return out
}

// A reach runs between the middles of the squares it passes, each once in a row; in a single square it
// is half a square long, from the middle to the east. In squares of 1000 m, by hand.
func TestLineBetweenSquares(t *testing.T) {
	g := grid{earth.NewEqualAreaCylinder(), 1000}
	at := func(x, y float64) orb.Point { return g.plane.Inverse(orb.Point{x, y}) }
	for name, c := range map[string]struct {
		path orb.LineString
		want [][2]float64
	}{
		"in one square":              {orb.LineString{at(10_100, 20_100), at(10_900, 20_900)}, [][2]float64{{10.5, 20.5}, {11, 20.5}}},
		"west and south":             {orb.LineString{at(-10_100, -20_100), at(-10_900, -20_900)}, [][2]float64{{-10.5, -20.5}, {-10, -20.5}}},
		"through three":              {orb.LineString{at(10_100, 20_100), at(10_900, 20_100), at(11_100, 20_100), at(12_500, 20_900)}, [][2]float64{{10.5, 20.5}, {11.5, 20.5}, {12.5, 20.5}}},
		"there and back":             {orb.LineString{at(10_100, 20_100), at(11_100, 20_100), at(10_200, 20_200)}, [][2]float64{{10.5, 20.5}, {11.5, 20.5}, {10.5, 20.5}}},
		"north":                      {orb.LineString{at(10_100, 20_100), at(10_100, 21_100)}, [][2]float64{{10.5, 20.5}, {10.5, 21.5}}},
		"from the corner of squares": {orb.LineString{at(0.001, 0.001), at(-0.001, -0.001)}, [][2]float64{{0.5, 0.5}, {-0.5, -0.5}}},
	} {
		got := inSquares(g, g.line(c.path))
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s: %v, want %v", name, got, c.want)
			}
		}
	}
	if got := g.line(nil); got != nil {
		t.Errorf("no line: %v", got)
	}
}

// A place becomes the middle of its square, so that it moves by half a diagonal at most and all places
// of a square become one. A place that is none stays as it is.
func TestPlaceInItsSquare(t *testing.T) {
	g := grid{earth.NewEqualAreaCylinder(), 1000}
	for _, c := range [][4]float64{
		{10_001, 20_001, 10.5, 20.5}, {10_999, 20_999, 10.5, 20.5}, {11_001, 20_001, 11.5, 20.5}, {-1, -1, -0.5, -0.5}, {1, -999, 0.5, -0.5}, {-17_366_999, 6_000_001, -17366.5, 6000.5},
	} {
		got := inSquares(g, orb.LineString{g.place(g.plane.Inverse(orb.Point{c[0], c[1]}))})[0]
		if math.Abs(got[0]-c[2]) > 1e-5 || math.Abs(got[1]-c[3]) > 1e-5 {
			t.Errorf("%v m: square %v, want %v", c[:2], got, c[2:])
		}
	}
	for _, p := range []orb.Point{{200, 10}, {10, 95}, {math.NaN(), 0}} {
		if got := g.place(p); got != p && !math.IsNaN(p[0]) {
			t.Errorf("%v, which is no place, becomes %v", p, got)
		}
	}
}

// Records of a public edition have numbers as ids, in the order of the exact records, and nothing that
// may name a person or a file; the exact batch stays as it was.
func TestRecordsWithoutPeople(t *testing.T) {
	run := &result.Run{ExtraColumns: []string{"owner"}, Records: survey.Records{Listed: []survey.Record{
		{ID: "A. Holm 7", File: "holm.csv", Row: 8, Position: orb.Point{10.001, 20.001}, Detected: true, Cover: 40, PatchArea: 12, Notes: survey.Notes{RecordedBy: "A. Holm"}.Pack()},
		{ID: "b", File: "b.csv", Row: 9, Position: orb.Point{11, 21}, Outline: orb.MultiPolygon{{{{11, 21}, {11.001, 21}, {11, 21.001}, {11, 21}}}}},
	}}}
	out := Edition(run, geo.Meters(1000))
	if out.Coarse != 1000 || out.ExtraColumns != nil || run.ExtraColumns == nil || run.Records.Listed[0].ID != "A. Holm 7" || run.Records.Listed[0].Notes == "" {
		t.Errorf("coarse %v, columns %v, the exact batch's first record is %+v", out.Coarse, out.ExtraColumns, run.Records.Listed[0])
	}
	g := grid{earth.NewEqualAreaCylinder(), 1000}
	for i := range out.Records.Listed {
		r, was := &out.Records.Listed[i], &run.Records.Listed[i]
		if r.ID != string(rune('1'+i)) || r.File != "" || r.Row != 0 || r.Notes != "" || r.Outline != nil {
			t.Errorf("record %d: %+v", i, r)
		}
		if r.Detected != was.Detected || r.Cover != was.Cover || r.PatchArea != was.PatchArea {
			t.Errorf("record %d lost a measure: %+v", i, r)
		}
		at, exact := g.to(r.Position), g.to(was.Position)
		if math.Abs(at[0]-math.Floor(exact[0])-0.5) > 1e-6 || math.Abs(at[1]-math.Floor(exact[1])-0.5) > 1e-6 {
			t.Errorf("record %d is at %v, it was at %v", i, at, exact)
		}
	}
}

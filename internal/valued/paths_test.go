package valued

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
)

// A place as lines: each point a line with one vertex, then each line, then each ring, holes too; by
// hand. A place of one kind alone has the lines of that kind.
func TestPaths(t *testing.T) {
	point, line := orb.Point{1, 2}, orb.LineString{{3, 4}, {5, 6}}
	outer, hole := orb.Ring{{0, 0}, {9, 0}, {9, 9}, {0, 0}}, orb.Ring{{1, 1}, {2, 2}, {2, 1}, {1, 1}}
	other := orb.Ring{{20, 0}, {29, 0}, {29, 9}, {20, 0}}
	for name, c := range map[string]struct {
		place Place
		want  []orb.LineString
	}{
		"nothing": {Place{}, []orb.LineString{}},
		"points":  {Place{Points: orb.MultiPoint{point, {7, 8}}}, []orb.LineString{{point}, {{7, 8}}}},
		"lines":   {Place{Lines: orb.MultiLineString{line, {{7, 8}, {8, 8}}}}, []orb.LineString{line, {{7, 8}, {8, 8}}}},
		"areas":   {Place{Areas: orb.MultiPolygon{{outer, hole}, {other}}}, []orb.LineString{orb.LineString(outer), orb.LineString(hole), orb.LineString(other)}},
		"all": {Place{Points: orb.MultiPoint{point}, Lines: orb.MultiLineString{line}, Areas: orb.MultiPolygon{{other}}},
			[]orb.LineString{{point}, line, orb.LineString(other)}},
	} {
		if d := cmp.Diff(c.want, c.place.Paths()); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

// A place that no stream comes near is told, and one of two places that are the same is left out; two
// that differ in one thing alone are both kept.
func TestPlacesThatDiffer(t *testing.T) {
	if f := (&Place{ID: "a", File: "v.csv", Row: 4}).Away(); f.Rule.Code != "value-away-from-water" || f.Record != "a" || f.File != "v.csv" {
		t.Errorf("%+v", f)
	}
	one := Place{ID: "a", File: "v.csv", Row: 1, Name: "spring", Weight: 2, Points: orb.MultiPoint{{-128, -38}}}
	other := one
	other.Row = 2
	if kept, findings := Check([]Place{one, other}, Options{}); len(kept) != 1 || len(findings) != 1 {
		t.Errorf("a copy: %d places, %v", len(kept), findings)
	}
	for what, change := range map[string]func(*Place){
		"name": func(p *Place) { p.Name = "well" }, "weight": func(p *Place) { p.Weight = 3 }, "place": func(p *Place) { p.Points = orb.MultiPoint{{-128, -38.1}} },
		"line": func(p *Place) { p.Lines = orb.MultiLineString{{{-128, -38}, {-128, -38.1}}} },
	} {
		other := one
		other.Row = 2
		change(&other)
		if kept, _ := Check([]Place{one, other}, Options{}); len(kept) != 2 {
			t.Errorf("another %s: %d places", what, len(kept))
		}
	}
}

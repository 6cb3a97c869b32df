package valued

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/internal/check"
)

// spring is a place with a weight.
func spring(id string, lon float64) Place {
	return Place{ID: id, File: "v.csv", Row: 2, Name: "Spring", Weight: 2, Points: orb.MultiPoint{{lon, -38}}}
}

func codes(findings []check.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, f.Record+" "+f.Rule.Code)
	}
	return strings.Join(out, "; ")
}

// Each kind of bad place with its finding, by hand.
func TestBadPlaces(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(p *Place)
		kept   int
		want   string
	}{
		{"good", func(*Place) {}, 1, ""},
		{"no weight at all", func(p *Place) { p.Weight = 0 }, 1, ""},
		{"weight below 0", func(p *Place) { p.Weight = -0.5 }, 0, "a value-weight-negative"},
		{"weight not given", func(p *Place) { p.Weight = math.NaN() }, 1, "a value-weight-missing"},
		{"no place", func(p *Place) { p.Points = nil }, 0, "a value-empty"},
		{"lines without a vertex", func(p *Place) { p.Points, p.Lines = nil, orb.MultiLineString{} }, 0, "a value-empty"},
		{"no number", func(p *Place) { p.Points[0][1] = math.NaN() }, 0, "a value-not-finite"},
		{"projected", func(p *Place) { p.Points[0] = orb.Point{500000, 4600000} }, 0, "a value-out-of-range"},
		{"null island", func(p *Place) { p.Points[0] = orb.Point{} }, 0, "a value-null-island"},
		{"no id", func(p *Place) { p.ID = "" }, 1, "row 2 value-id-missing"},
	} {
		p := spring("a", 10)
		c.change(&p)
		if kept, findings := Check([]Place{p}, Options{}); len(kept) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(kept), codes(findings), c.kept, c.want)
		}
	}
	other := spring("a", 11)
	kept, findings := Check([]Place{other, spring("a", 10), spring("a", 10)}, Options{})
	if len(kept) != 2 || kept[0].ID != "a" || kept[1].ID != "a~2" || kept[1].Points[0][0] != 11 || codes(findings) != "a value-duplicate; a value-id-duplicate" {
		t.Errorf("%+v with %s", kept, codes(findings))
	}
	if f := kept[0].Away(); f.Rule.Code != "value-away-from-water" || f.Record != "a" || f.File != "v.csv" || *f.Position != (orb.Point{10, -38}) {
		t.Errorf("%+v", f)
	}
}

// Longitudes past 180 degrees, by hand: points turn back, lines and areas run on.
func TestPlacesRunOn(t *testing.T) {
	p := spring("a", 181)
	p.Points = append(p.Points, orb.Point{-180, 1})
	p.Lines = orb.MultiLineString{{{179.5, 1}, {-179.5, 1}, {179, 1}}}
	p.Areas = orb.MultiPolygon{{{{179, 1}, {-179, 1}, {-179, 2}, {179, 1}}}}
	kept, findings := Check([]Place{p}, Options{})
	if len(findings) > 0 || len(kept) != 1 {
		t.Fatal(kept, codes(findings))
	}
	want := Place{ID: "a", File: "v.csv", Row: 2, Name: "Spring", Weight: 2, Points: orb.MultiPoint{{-179, -38}, {-180, 1}}, Lines: orb.MultiLineString{{{179.5, 1}, {180.5, 1}, {179, 1}}},
		Areas: orb.MultiPolygon{{{{179, 1}, {181, 1}, {181, 2}, {179, 1}}}}}
	if diff := cmp.Diff(want, kept[0]); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if got := fmt.Sprint(kept[0].Paths()); got != "[[[-179 -38]] [[-180 1]] [[179.5 1] [180.5 1] [179 1]] [[179 1] [181 1] [181 2] [179 1]]]" {
		t.Errorf("paths %s", got)
	}
}

// The result depends on the set of places, not on their order; places go by name, weight and position
// where ids repeat.
func TestOrderOfPlaces(t *testing.T) {
	ranked := []Place{spring("", 12), spring("", 11), spring("", 10), spring("", 11)}
	ranked[0].Name, ranked[1].Weight = "A", 1
	for i := range ranked {
		for k := range ranked {
			if got := kind.Compare(&ranked[i], &ranked[k]); (got < 0) != (i < k) || (got > 0) != (i > k) {
				t.Errorf("%d and %d: %d", i, k, got)
			}
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		var places []Place
		for i := range rapid.IntRange(0, 6).Draw(r, "places") {
			p := spring(rapid.SampledFrom([]string{"", "a", "b"}).Draw(r, "id"), float64(rapid.IntRange(1, 3).Draw(r, "lon")))
			p.Row, p.Weight = i, float64(rapid.IntRange(-1, 2).Draw(r, "weight"))
			places = append(places, p)
		}
		turned := rapid.Permutation(places).Draw(r, "turned")
		one, told := Check(copied(places), Options{})
		two, toldToo := Check(copied(turned), Options{})
		if fmt.Sprint(one) != fmt.Sprint(two) || codes(told) != codes(toldToo) {
			r.Fatalf("%v %s\n%v %s", one, codes(told), two, codes(toldToo))
		}
		if rejected := check.Count(told, check.Error); len(one)+rejected != len(places) {
			r.Fatalf("%d places, %d kept, %d rejected", len(places), len(one), rejected)
		}
	})
	for _, rule := range Rules() {
		if rule.Remedy == "" || !strings.HasPrefix(rule.Code, "value-") {
			t.Errorf("%+v", rule)
		}
	}
}

func copied(places []Place) []Place {
	out := slices.Clone(places)
	for i := range out {
		out[i].Points = slices.Clone(out[i].Points)
	}
	return out
}

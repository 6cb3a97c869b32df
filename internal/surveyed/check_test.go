package surveyed

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/internal/check"
)

func day(text string) time.Time {
	if text == "" {
		return time.Time{}
	}
	d, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return d
}

var thirdQuarter = Options{Begin: day("2026-07-01"), End: day("2026-09-30")}

// good is a walk without faults.
func good() Ground {
	return Ground{File: "walked.gpx", Row: 2, Begin: day("2026-07-05"), End: day("2026-07-05"),
		Lines: orb.MultiLineString{{{10, -20}, {10.01, -20}}}}
}

func codes(findings []check.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, f.Record+" "+f.Rule.Code)
	}
	return strings.Join(out, "; ")
}

// TestBadGround checks that each kind of fault gives its finding; by hand.
func TestBadGround(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(g *Ground)
		kept   int
		want   string
	}{
		{"good", func(*Ground) {}, 1, ""},
		{"nothing", func(g *Ground) { g.Lines = nil }, 0, "row 2 surveyed-empty"},
		{"flat area", func(g *Ground) { g.Lines, g.Areas = nil, orb.MultiPolygon{{{{1, 1}, {2, 2}, {1, 1}}}} }, 0, "row 2 surveyed-empty"},
		{"NaN", func(g *Ground) { g.Lines[0][1][0] = math.NaN() }, 0, "row 2 surveyed-not-finite"},
		{"projected", func(g *Ground) { g.Lines[0][1] = orb.Point{500000, 4600000} }, 0, "row 2 surveyed-out-of-range"},
		{"null island", func(g *Ground) { g.Lines[0][1] = orb.Point{} }, 0, "row 2 surveyed-null-island"},
		{"no dates", func(g *Ground) { g.Begin, g.End = day(""), day("") }, 1, ""},
		{"backwards", func(g *Ground) { g.End = day("2026-07-01") }, 1, "row 2 surveyed-dates-reversed"},
		{"the quarter before", func(g *Ground) { g.Begin, g.End = day("2026-06-01"), day("2026-06-30") }, 1, "row 2 surveyed-outside-quarter"},
		{"the quarter after", func(g *Ground) { g.Begin, g.End = day("2026-10-01"), day("2026-10-01") }, 1, "row 2 surveyed-outside-quarter"},
		{"begins before, ends in it", func(g *Ground) { g.Begin = day("2026-06-30") }, 1, ""},
		{"an end alone, before", func(g *Ground) { g.Begin, g.End = day(""), day("2026-06-30") }, 1, "row 2 surveyed-outside-quarter"},
		{"a start alone", func(g *Ground) { g.End = day("") }, 1, ""},
	} {
		g := good()
		c.change(&g)
		kept, findings := Check([]Ground{g}, thirdQuarter)
		if len(kept) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(kept), codes(findings), c.kept, c.want)
		}
	}
}

// TestDuring: which pieces count in a quarter, by hand; without a quarter every piece does.
func TestDuring(t *testing.T) {
	for _, c := range []struct {
		begin, end string
		want       bool
	}{
		{"", "", true}, {"2026-09-30", "2026-10-02", true}, {"2026-01-01", "2026-12-31", true},
		{"2026-04-01", "2026-06-30", false}, {"2026-10-01", "", false}, {"", "2026-07-01", true},
	} {
		g := Ground{Begin: day(c.begin), End: day(c.end)}
		if got := g.During(thirdQuarter.Begin, thirdQuarter.End); got != c.want {
			t.Errorf("%s/%s: %v", c.begin, c.end, got)
		}
		if !g.During(time.Time{}, time.Time{}) {
			t.Errorf("%s/%s: not without a quarter", c.begin, c.end)
		}
	}
}

// TestPlacesRunOn: longitudes past 180 degrees, by hand. An area that crosses itself is repaired
// without a finding.
func TestPlacesRunOn(t *testing.T) {
	line, area := good(), good()
	line.Lines = orb.MultiLineString{{{179.5, 1}, {-179.5, 1}}}
	area.Lines, area.Areas = nil, orb.MultiPolygon{{{{-179, 1}, {-178, 2}, {-178, 1}, {-179, 2}, {-179, 1}}}}
	kept, findings := Check([]Ground{line, area}, Options{})
	if len(findings) > 0 || len(kept) != 2 {
		t.Fatal(kept, codes(findings))
	}
	for _, g := range kept {
		if len(g.Lines) > 0 && fmt.Sprint(g.Lines) != "[[[179.5 1] [180.5 1]]]" {
			t.Error(g.Lines)
		}
		if len(g.Lines) == 0 && len(g.Areas) != 2 {
			t.Error(g.Areas)
		}
	}
}

// TestCheckOrder: the result depends on the set of pieces, not on their order.
func TestCheckOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var ground []Ground
		for i := range rapid.IntRange(0, 6).Draw(r, "pieces") {
			g := good()
			g.Row = i
			g.Begin = day(rapid.SampledFrom([]string{"", "2026-07-01", "2026-08-01"}).Draw(r, "begin"))
			g.Lines = orb.MultiLineString{{{rapid.SampledFrom([]float64{1, 2, 999}).Draw(r, "lon"), 1}, {1.5, 1}}}
			ground = append(ground, g)
		}
		again := rapid.Permutation(ground).Draw(r, "again")
		one, told := Check(copied(ground), thirdQuarter)
		two, toldToo := Check(copied(again), thirdQuarter)
		if !reflect.DeepEqual(one, two) || fmt.Sprint(told) != fmt.Sprint(toldToo) {
			r.Fatalf("%v %s\n%v %s", one, codes(told), two, codes(toldToo))
		}
		if rejected := check.Count(told, check.Error); len(one)+rejected != len(ground) {
			r.Fatalf("%d pieces, %d kept, %d rejected", len(ground), len(one), rejected)
		}
	})
}

func copied(ground []Ground) []Ground {
	out := slices.Clone(ground)
	for i := range out {
		out[i].Lines = orb.MultiLineString{slices.Clone(out[i].Lines[0])}
	}
	return out
}

func TestRulesAreDistinct(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		if seen[r.Code] || r.Remedy == "" || !strings.HasPrefix(r.Code, "surveyed-") {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
}

// TestDaysInWords: the days of a piece as written in findings.
func TestDaysInWords(t *testing.T) {
	for want, g := range map[string]Ground{
		"": {}, "2026-07-01": {Begin: day("2026-07-01")}, "2026-07-02": {End: day("2026-07-02")},
		"2026-07-03": {Begin: day("2026-07-03"), End: day("2026-07-03")}, "2026-07-01/2026-07-09": {Begin: day("2026-07-01"), End: day("2026-07-09")},
	} {
		if got := g.days(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

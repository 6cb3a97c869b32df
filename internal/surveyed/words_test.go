package surveyed

import (
	"testing"
	"time"

	"github.com/paulmach/orb"
)

// Methods and banks in the words of forms and files; by hand.
func TestWords(t *testing.T) {
	for word, want := range map[string]Method{
		" Foot ": Foot, "WALKED": Foot, "ground": Foot, "Kayak": Boat, "by boat": Boat, "Drone": Air, "uas": Air, "Helicopter": Air, "satellite": Image, "Orthophoto": Image, "photo": Image,
	} {
		if got, ok := ParseMethod(word); got != want || !ok {
			t.Errorf("%q is %s, %v", word, got, ok)
		}
	}
	for word, want := range map[string]Bank{"both": BothBanks, " L ": LeftBank, "Left bank": LeftBank, "R": RightBank, "right": RightBank} {
		if got, ok := ParseBank(word); got != want || !ok {
			t.Errorf("%q is %s, %v", word, got, ok)
		}
	}
	for _, word := range []string{"", "mule", "leftish"} {
		if m, ok := ParseMethod(word); m != Foot || ok {
			t.Errorf("%q is read as %s", word, m)
		}
		if b, ok := ParseBank(word); b != BothBanks || ok {
			t.Errorf("%q is read as bank %s", word, b)
		}
	}
	for m := range Methods { // each word is read as itself
		if got, ok := ParseMethod(m.String()); got != m || !ok {
			t.Errorf("%s is read as %s", m, got)
		}
	}
	for b := BothBanks; b <= RightBank; b++ {
		if got, ok := ParseBank(b.String()); got != b || !ok {
			t.Errorf("%s is read as %s", b, got)
		}
	}
	if Foot.String() != "foot" || Image.String() != "image" || RuleMethod().Code != "surveyed-method-unknown" || RuleBank().Code != "surveyed-bank-unknown" {
		t.Error("another word or code")
	}
}

// Days of ground against the quarter's first and last, each limit by hand; and with one limit alone.
func TestDuringAtTheLimits(t *testing.T) {
	first, last := thirdQuarter.Begin, thirdQuarter.End
	for _, tt := range []struct {
		begin, end string
		want       [3]bool // in the quarter, from its first day on, up to its last
	}{
		{"2026-07-01", "2026-07-01", [3]bool{true, true, true}}, {"2026-09-30", "2026-09-30", [3]bool{true, true, true}}, {"2026-06-30", "2026-06-30", [3]bool{false, false, true}},
		{"2026-10-01", "2026-10-01", [3]bool{false, true, false}}, {"2026-06-30", "2026-07-01", [3]bool{true, true, true}}, {"2026-09-30", "2026-10-01", [3]bool{true, true, true}},
		{"", "2026-06-30", [3]bool{false, false, true}}, {"2026-10-01", "", [3]bool{false, true, false}}, {"", "", [3]bool{true, true, true}},
	} {
		g := Ground{Begin: day(tt.begin), End: day(tt.end)}
		if got := [3]bool{g.During(first, last), g.During(first, time.Time{}), g.During(time.Time{}, last)}; got != tt.want {
			t.Errorf("%s/%s: %v, want %v", tt.begin, tt.end, got, tt.want)
		}
	}
}

// Pieces of ground by their content: a copy is told of and kept; what differs in any value is none.
func TestCopiesOfGround(t *testing.T) {
	kept, findings := Check([]Ground{good(), good()}, thirdQuarter)
	if len(kept) != 2 || codes(findings) != "row 2 surveyed-duplicate" {
		t.Errorf("%d kept with %q", len(kept), codes(findings))
	}
	square := orb.Polygon{{{1, 1}, {2, 1}, {2, 2}, {1, 1}}}
	for name, change := range map[string]func(g *Ground){
		"Begin": func(g *Ground) { g.Begin = day("2026-07-06"); g.End = g.Begin }, "End": func(g *Ground) { g.End = day("2026-07-06") }, "Method": func(g *Ground) { g.Method = Boat },
		"Bank": func(g *Ground) { g.Bank = LeftBank }, "Lines": func(g *Ground) { g.Lines = append(g.Lines, g.Lines[0]) }, "Areas": func(g *Ground) { g.Areas = orb.MultiPolygon{square} },
	} {
		a, b := good(), good()
		if change(&b); compareContent(&a, &b) != -1 || compareContent(&b, &a) != 1 {
			t.Errorf("%s does not tell two pieces apart: %d", name, compareContent(&a, &b))
		}
	}
	// an area outside the quarter is kept and does not count; its hole is kept with it
	ring := Ground{File: "f", Row: 1, Begin: day("2026-01-01"), End: day("2026-01-02"), Areas: orb.MultiPolygon{{{{1, 1}, {1.4, 1}, {1.4, 1.4}, {1, 1.4}, {1, 1}}, {{1.1, 1.1}, {1.1, 1.2}, {1.2, 1.2}, {1.1, 1.1}}}}}
	kept, findings = Check([]Ground{ring}, thirdQuarter)
	if len(kept) != 1 || len(kept[0].Areas) != 1 || len(kept[0].Areas[0]) != 2 || len(kept[0].paths()) != 2 || findings[0].Value != "2026-01-01/2026-01-02" || findings[0].Rule.Code != "surveyed-outside-quarter" {
		t.Errorf("%+v with %v", kept, findings)
	}
}

// TestBackwardDays: a piece whose end lies before its start has no days, so that it counts in its
// quarter; with days in order it keeps them. By hand.
func TestBackwardDays(t *testing.T) {
	day := func(m time.Month, d int) time.Time { return time.Date(2026, m, d, 0, 0, 0, 0, time.UTC) }
	area := orb.MultiPolygon{{{{10, 20}, {10.01, 20}, {10.01, 20.01}, {10, 20}}}}
	for _, c := range []struct {
		begin, end, wantBegin, wantEnd time.Time
		codes                          string
	}{
		{day(8, 9), day(8, 2), time.Time{}, time.Time{}, "surveyed-dates-reversed"}, {day(8, 2), day(8, 9), day(8, 2), day(8, 9), ""}, {day(8, 2), day(8, 2), day(8, 2), day(8, 2), ""},
		{time.Time{}, day(8, 2), time.Time{}, day(8, 2), ""}, {day(2, 9), day(2, 2), time.Time{}, time.Time{}, "surveyed-dates-reversed"}, {day(2, 2), day(2, 9), day(2, 2), day(2, 9), "surveyed-outside-quarter"},
	} {
		kept, findings := Check([]Ground{{File: "s", Row: 1, Begin: c.begin, End: c.end, Areas: area.Clone()}}, Options{Begin: day(7, 1), End: day(9, 30)})
		codes := ""
		for _, f := range findings {
			codes += f.Rule.Code
		}
		if len(kept) != 1 || !kept[0].Begin.Equal(c.wantBegin) || !kept[0].End.Equal(c.wantEnd) || codes != c.codes {
			t.Errorf("%v to %v: %+v, %q, want %q", c.begin, c.end, kept, codes, c.codes)
		}
	}
}

// TestRoutesRunOn: a walked route across the antimeridian goes on from its first place, to the east or
// to the west; by hand.
func TestRoutesRunOn(t *testing.T) {
	kept, findings := Check([]Ground{{File: "s", Row: 1, Lines: orb.MultiLineString{{{179, -18}, {-179, -18.1}, {-178, -18.2}}, {{-179, -17}, {179, -17.1}}, {{10, 20}, {11, 21}}}}}, Options{})
	if len(kept) != 1 || len(findings) != 0 {
		t.Fatalf("%+v, %v", kept, findings)
	}
	want := orb.MultiLineString{{{179, -18}, {181, -18.1}, {182, -18.2}}, {{-179, -17}, {-181, -17.1}}, {{10, 20}, {11, 21}}}
	if !want.Equal(kept[0].Lines) {
		t.Errorf("%v, want %v", kept[0].Lines, want)
	}
}

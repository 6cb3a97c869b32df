package work

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
	d, err := time.Parse(time.DateOnly, text)
	if err != nil {
		panic(err)
	}
	return d
}

// good is a valid work.
func good() Work {
	return Work{ID: "b", File: "works.csv", Row: 2, Kind: Mowing, Start: day("2026-10-05"), End: day("2026-10-09"),
		Contact: "Roads Office", Points: orb.MultiPoint{{10, -20}}}
}

func codes(findings []check.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, f.Record+" "+f.Rule.Code)
	}
	return strings.Join(out, "; ")
}

// TestBadWorks checks the finding for every kind of bad work; what is kept is derived by hand from
// the field table.
func TestBadWorks(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(w *Work)
		kept   int
		want   string
	}{
		{"good", func(*Work) {}, 1, ""},
		{"no place", func(w *Work) { w.Points = nil }, 0, "b work-empty"},
		{"NaN", func(w *Work) { w.Points[0][1] = math.NaN() }, 0, "b work-not-finite"},
		{"infinite", func(w *Work) { w.Points[0][0] = math.Inf(1) }, 0, "b work-not-finite"},
		{"projected", func(w *Work) { w.Points[0] = orb.Point{500000, 4600000} }, 0, "b work-out-of-range"},
		{"latitude", func(w *Work) { w.Points[0] = orb.Point{10, 91} }, 0, "b work-out-of-range"},
		{"null island", func(w *Work) { w.Points[0] = orb.Point{} }, 0, "b work-null-island"},
		{"no id", func(w *Work) { w.ID = "" }, 1, "row 2 work-id-missing"},
		{"another kind", func(w *Work) { w.Kind = "fence repair" }, 1, "b work-kind-other"},
		{"no kind", func(w *Work) { w.Kind = "" }, 1, "b work-kind-missing"},
		{"kind in capitals and with a dash", func(w *Work) { w.Kind = "Channel-Work" }, 1, ""},
		{"no contact", func(w *Work) { w.Contact = "" }, 1, "b work-contact-missing"},
		{"no start", func(w *Work) { w.Start = time.Time{} }, 1, ""},
		{"no end", func(w *Work) { w.End = time.Time{} }, 1, "b work-end-missing"},
		{"backwards", func(w *Work) { w.End = day("2026-10-04") }, 1, "b work-dates-reversed"},
		{"over the day before the quarter", func(w *Work) { w.Start, w.End = day("2026-06-01"), day("2026-06-30") }, 1, "b work-over"},
		{"ends on the quarter's first day", func(w *Work) { w.Start, w.End = day("2026-06-01"), day("2026-07-01") }, 1, ""},
	} {
		w := good()
		c.change(&w)
		kept, findings := Check([]Work{w}, Options{Begin: day("2026-07-01")})
		if len(kept) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(kept), codes(findings), c.kept, c.want)
		}
	}
}

// TestCheckMakesValues: what is repaired, by hand.
func TestCheckMakesValues(t *testing.T) {
	over := good()
	over.ID, over.Kind, over.End = "", "channel_work", day("2026-10-01")
	kept, _ := Check([]Work{over}, Options{})
	if w := kept[0]; w.ID != "works#2" || w.Kind != ChannelWork || !w.Start.IsZero() || !w.End.IsZero() || w.Over(day("9999-01-01")) {
		t.Errorf("%+v", w)
	}
}

// TestSameIDs: an exact copy is rejected; another work with the same id is renamed, avoiding names
// already used.
func TestSameIDs(t *testing.T) {
	other, taken := good(), good()
	other.Contact, taken.ID = "Zoo", "b~2"
	kept, findings := Check([]Work{other, good(), taken, good()}, Options{})
	var ids []string
	for _, w := range kept {
		ids = append(ids, w.ID+" "+w.Contact)
	}
	if want := []string{"b Roads Office", "b~2 Roads Office", "b~3 Zoo"}; !slices.Equal(ids, want) {
		t.Errorf("%q, want %q", ids, want)
	}
	if want := "b work-duplicate; b work-id-duplicate"; codes(findings) != want {
		t.Errorf("%q, want %q", codes(findings), want)
	}
}

// TestPlacesRunOn: longitudes across 180 degrees, by hand; parts of an area on both sides, as cut
// by RFC 7946, are joined.
func TestPlacesRunOn(t *testing.T) {
	w := good()
	w.Points = orb.MultiPoint{{181, 0.5}, {-180, 1}}
	w.Lines = orb.MultiLineString{{{179.5, 1}, {-179.5, 1}, {179, 1}}}
	w.Areas = orb.MultiPolygon{
		{{{179, 1}, {180, 1}, {180, 2}, {179, 1}}},
		{{{-180, 1}, {-179, 1}, {-180, 2}, {-180, 1}}},
	}
	kept, _ := Check([]Work{w}, Options{})
	got := fmt.Sprint(kept[0].Points, kept[0].Lines, kept[0].Areas)
	want := fmt.Sprint(orb.MultiPoint{{-179, 0.5}, {-180, 1}}, orb.MultiLineString{{{179.5, 1}, {180.5, 1}, {179, 1}}},
		orb.MultiPolygon{{{{179, 1}, {180, 1}, {180, 2}, {179, 1}}}, {{{180, 1}, {181, 1}, {180, 2}, {180, 1}}}})
	if got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestLinesRunOnFromTheirFirst: longitudes run on from the line's first, whatever its latitude.
func TestLinesRunOnFromTheirFirst(t *testing.T) {
	for from, want := range map[float64]float64{179.5: 180.5, -179.5: -180.5} {
		w := good()
		w.Lines = orb.MultiLineString{{{from, -50}, {-from, 50}}}
		kept, _ := Check([]Work{w}, Options{})
		if got := kept[0].Lines[0]; got[0][0] != from || math.Abs(got[1][0]-want) > 1e-9 {
			t.Errorf("from %v: %v", from, got)
		}
	}
}

// TestCheckOrder: the result depends on the set of works, not on their order.
func TestCheckOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var works []Work
		for i := range rapid.IntRange(0, 6).Draw(r, "works") {
			w := good()
			w.Row = i
			w.ID = rapid.SampledFrom([]string{"", "a", "b", "a~2"}).Draw(r, "id")
			w.Contact = rapid.SampledFrom([]string{"", "x"}).Draw(r, "contact")
			w.Points = orb.MultiPoint{{rapid.SampledFrom([]float64{1, 2, 999}).Draw(r, "lon"), 1}}
			works = append(works, w)
		}
		again := rapid.Permutation(works).Draw(r, "again")
		one, told := Check(copied(works), Options{})
		two, toldToo := Check(copied(again), Options{})
		if !reflect.DeepEqual(one, two) || fmt.Sprint(told) != fmt.Sprint(toldToo) {
			r.Fatalf("%v %s\n%v %s", one, codes(told), two, codes(toldToo))
		}
		if rejected := check.Count(told, check.Error); len(one)+rejected != len(works) {
			r.Fatalf("%d works, %d kept, %d rejected", len(works), len(one), rejected)
		}
		for i := 1; i < len(one); i++ {
			if one[i-1].ID >= one[i].ID {
				r.Fatalf("ids %q and %q", one[i-1].ID, one[i].ID)
			}
		}
	})
}

func copied(works []Work) []Work {
	out := slices.Clone(works)
	for i := range out {
		out[i].Points = slices.Clone(out[i].Points)
	}
	return out
}

func TestRulesAreDistinct(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		if seen[r.Code] || r.Remedy == "" || !strings.HasPrefix(r.Code, "work-") {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
}

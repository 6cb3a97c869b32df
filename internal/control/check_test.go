package control

import (
	"fmt"
	"math"
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

// good is work nothing is wrong with.
func good() Action {
	return Action{File: "treatments.csv", Row: 2, Date: day("2026-07-05"), StandID: "2026Q1-0001", Position: orb.Point{10, -20}, Placed: true,
		Method: FoliarSpray, FormulationClass: AquaticLabelled, TreatedAcres: 0.2}
}

func codes(findings []check.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, f.Record+" "+f.Rule.Code)
	}
	return strings.Join(out, "; ")
}

// TestBadWork holds every named kind of bad work to its finding; by hand.
func TestBadWork(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(a *Action)
		kept   int
		want   string
	}{
		{"good", func(*Action) {}, 1, ""},
		{"no date", func(a *Action) { a.Date = time.Time{} }, 0, "row 2 treatment-date-missing"},
		{"last day of the quarter", func(a *Action) { a.Date = day("2026-09-30") }, 1, ""},
		{"after the quarter", func(a *Action) { a.Date = day("2026-10-01") }, 1, "row 2 treatment-after-quarter"},
		{"long ago", func(a *Action) { a.Date = day("2019-10-01") }, 1, ""},
		{"stand alone", func(a *Action) { a.Placed, a.Position = false, orb.Point{} }, 1, ""},
		{"position alone", func(a *Action) { a.StandID = "" }, 1, ""},
		{"neither", func(a *Action) { a.StandID, a.Placed = "", false }, 0, "row 2 treatment-without-place"},
		{"out of range, stand named", func(a *Action) { a.Position[1] = 91 }, 1, "row 2 treatment-position-left-out"},
		{"out of range", func(a *Action) { a.Position[1], a.StandID = 91, "" }, 0, "row 2 treatment-out-of-range"},
		{"NaN", func(a *Action) { a.Position[1], a.StandID = math.NaN(), "" }, 0, "row 2 treatment-not-finite"},
		{"null island", func(a *Action) { a.Position, a.StandID = orb.Point{}, "" }, 0, "row 2 treatment-null-island"},
		{"no acres", func(a *Action) { a.TreatedAcres = math.NaN() }, 1, ""},
		{"negative acres", func(a *Action) { a.TreatedAcres = -1 }, 1, "row 2 treatment-acres-not-positive"},
		{"no acres at all", func(a *Action) { a.TreatedAcres = 0 }, 1, "row 2 treatment-acres-not-positive"},
		{"endless acres", func(a *Action) { a.TreatedAcres = math.Inf(1) }, 1, "row 2 treatment-acres-not-positive"},
		{"another method", func(a *Action) { a.Method = "goats" }, 1, "row 2 treatment-method-other"},
		{"another class", func(a *Action) { a.FormulationClass = "brand" }, 1, "row 2 treatment-formulation-other"},
		{"words left blank", func(a *Action) { a.Method, a.FormulationClass = "", "" }, 1, ""},
	} {
		a := good()
		c.change(&a)
		kept, findings := Check([]Action{a}, Options{End: day("2026-09-30")})
		if len(kept) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(kept), codes(findings), c.kept, c.want)
		}
		if len(kept) > 0 && kept[0].TreatedAcres <= 0 {
			t.Errorf("%s: %g acres kept", c.name, kept[0].TreatedAcres)
		}
	}
}

// TestWords: every known word is read in any case and however joined.
func TestWords(t *testing.T) {
	for _, word := range slices.Concat(Methods(), FormulationClasses()) {
		for _, text := range []string{word, strings.ToUpper(word), strings.ReplaceAll(word, " ", "_"), strings.ReplaceAll(word, "-", " ")} {
			method, ok1 := ParseMethod(text)
			class, ok2 := ParseFormulationClass(text)
			if ok1 == ok2 || ok1 && method != word || ok2 && class != word {
				t.Errorf("%q: %q %v, %q %v", text, method, ok1, class, ok2)
			}
		}
	}
	if word, ok := ParseMethod("goats"); ok || word != "goats" {
		t.Error(word, ok)
	}
}

// TestCheckOrder: the answer depends on the set of rows, not on their order;
// exact copies go, and the work comes by date.
func TestCheckOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var actions []Action
		for i := range rapid.IntRange(0, 6).Draw(r, "actions") {
			a := good()
			a.Row = i
			a.Date = day(rapid.SampledFrom([]string{"2026-07-05", "2026-05-01"}).Draw(r, "date"))
			a.StandID = rapid.SampledFrom([]string{"", "s"}).Draw(r, "stand")
			a.TreatedAcres = rapid.SampledFrom([]float64{math.NaN(), 1}).Draw(r, "acres")
			a.Position[0] = rapid.SampledFrom([]float64{1, 359, 999}).Draw(r, "lon")
			actions = append(actions, a)
		}
		again := rapid.Permutation(actions).Draw(r, "again")
		one, told := Check(slices.Clone(actions), Options{})
		two, toldToo := Check(slices.Clone(again), Options{})
		if fmt.Sprint(one) != fmt.Sprint(two) || fmt.Sprint(told) != fmt.Sprint(toldToo) {
			r.Fatalf("%v %s\n%v %s", one, codes(told), two, codes(toldToo))
		}
		if rejected := check.Count(told, check.Error); len(one)+rejected != len(actions) {
			r.Fatalf("%d rows, %d kept, %d rejected", len(actions), len(one), rejected)
		}
		for i := 1; i < len(one); i++ {
			if one[i].Date.Before(one[i-1].Date) {
				r.Fatalf("%v after %v", one[i], one[i-1])
			}
		}
	})
}

func TestRulesAreDistinct(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		if seen[r.Code] || r.Remedy == "" || !strings.HasPrefix(r.Code, "treatment-") {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
}

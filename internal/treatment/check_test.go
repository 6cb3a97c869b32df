package treatment

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

// noApplication has no values.
func noApplication() Application {
	return Application{Amount: math.NaN(), Wind: math.NaN(), Temperature: math.NaN(), Hours: math.NaN()}
}

// good is valid work.
func good() Treatment {
	return Treatment{File: "treatments.csv", Row: 2, Date: day("2026-07-05"), StandID: "2026Q1-0001", Position: orb.Point{10, -20}, Placed: true,
		Method: FoliarSpray, FormulationClass: AquaticLabelled, TreatedAcres: 0.2, Application: noApplication()}
}

// areaAt is a square area with the given side in degrees.
func areaAt(side float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{10, -20}, {10 + side, -20}, {10 + side, -20 + side}, {10, -20 + side}, {10, -20}}}}
}

func codes(findings []check.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, f.Record+" "+f.Rule.Code)
	}
	return strings.Join(out, "; ")
}

// TestBadWork checks the finding for every kind of bad work; by hand.
func TestBadWork(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(a *Treatment)
		kept   int
		want   string
	}{
		{"good", func(*Treatment) {}, 1, ""},
		{"no date", func(a *Treatment) { a.Date = time.Time{} }, 0, "row 2 treatment-date-missing"},
		{"last day of the quarter", func(a *Treatment) { a.Date = day("2026-09-30") }, 1, ""},
		{"after the quarter", func(a *Treatment) { a.Date = day("2026-10-01") }, 1, "row 2 treatment-after-quarter"},
		{"long ago", func(a *Treatment) { a.Date = day("2019-10-01") }, 1, ""},
		{"stand alone", func(a *Treatment) { a.Placed, a.Position = false, orb.Point{} }, 1, ""},
		{"position alone", func(a *Treatment) { a.StandID = "" }, 1, ""},
		{"neither", func(a *Treatment) { a.StandID, a.Placed = "", false }, 0, "row 2 treatment-without-place"},
		{"out of range, stand named", func(a *Treatment) { a.Position[1] = 91 }, 1, "row 2 treatment-position-left-out"},
		{"out of range", func(a *Treatment) { a.Position[1], a.StandID = 91, "" }, 0, "row 2 treatment-out-of-range"},
		{"NaN", func(a *Treatment) { a.Position[1], a.StandID = math.NaN(), "" }, 0, "row 2 treatment-not-finite"},
		{"null island", func(a *Treatment) { a.Position, a.StandID = orb.Point{}, "" }, 0, "row 2 treatment-null-island"},
		{"an area", func(a *Treatment) { a.Ground = areaAt(0.001) }, 1, ""},
		{"an area that crosses itself", func(a *Treatment) { a.Ground = areaAt(0.001); r := a.Ground[0][0]; r[1], r[2] = r[2], r[1] }, 1, ""},
		{"an area out of range", func(a *Treatment) { a.Ground = areaAt(0.001); a.Ground[0][0][2][1] = 91 }, 1, "row 2 treatment-area-left-out"},
		{"an area as large as a county", func(a *Treatment) { a.Ground = areaAt(0.1) }, 1, "row 2 treatment-area-left-out"},
		{"an area of nothing", func(a *Treatment) { a.Ground = areaAt(0) }, 1, "row 2 treatment-area-left-out"},
		{"no acres", func(a *Treatment) { a.TreatedAcres = math.NaN() }, 1, "row 2 treatment-acres-missing"},
		{"negative acres", func(a *Treatment) { a.TreatedAcres = -1 }, 1, "row 2 treatment-acres-not-positive"},
		{"no acres at all", func(a *Treatment) { a.TreatedAcres = 0 }, 1, "row 2 treatment-acres-not-positive"},
		{"endless acres", func(a *Treatment) { a.TreatedAcres = math.Inf(1) }, 1, "row 2 treatment-acres-not-positive"},
		{"square feet for acres", func(a *Treatment) { a.TreatedAcres = 10_890 }, 1, "row 2 treatment-measure-implausible"},
		{"all that a row may tell", func(a *Treatment) {
			a.Application = Application{"A", "1-2", 2.5, "gal", "N. N.", "L 7", "08:30", "11:45 am", 2.5, 24, 12, "0412-0418"}
		}, 1, ""},
		{"amount without a unit", func(a *Treatment) { a.Amount = 3 }, 1, "row 2 treatment-amount-without-unit"},
		{"amount below 0", func(a *Treatment) { a.Amount, a.AmountUnit = -3, "L" }, 1, "row 2 treatment-measure-implausible"},
		{"amount beyond all", func(a *Treatment) { a.Amount, a.AmountUnit = 1e7, "L" }, 1, "row 2 treatment-measure-implausible"},
		{"no wind", func(a *Treatment) { a.Wind = 0 }, 1, ""},
		{"a hurricane", func(a *Treatment) { a.Wind = 40.1 }, 1, "row 2 treatment-measure-implausible"},
		{"wind below 0", func(a *Treatment) { a.Wind = -1 }, 1, "row 2 treatment-measure-implausible"},
		{"Fahrenheit", func(a *Treatment) { a.Temperature = 75 }, 1, "row 2 treatment-measure-implausible"},
		{"frost", func(a *Treatment) { a.Temperature = -4 }, 1, ""},
		{"unknown as -9999", func(a *Treatment) { a.Temperature = -9999 }, 1, "row 2 treatment-measure-implausible"},
		{"no hours", func(a *Treatment) { a.Hours = 0 }, 1, "row 2 treatment-measure-implausible"},
		{"too many hours", func(a *Treatment) { a.Hours = 1001 }, 1, "row 2 treatment-measure-implausible"},
		{"no time of day", func(a *Treatment) { a.Start = "morning" }, 1, "row 2 treatment-time-unreadable"},
		{"end before start", func(a *Treatment) { a.Start, a.End = "14:00", "9:30 AM" }, 1, "row 2 treatment-times-reversed"},
		{"photographs by name", func(a *Treatment) { a.Photos = "IMG_0412, IMG_0413" }, 1, ""},
		{"photographs taken", func(a *Treatment) { a.Photos = "yes" }, 1, "row 2 treatment-photos-unnumbered"},
		{"another method", func(a *Treatment) { a.Method = "goats" }, 1, "row 2 treatment-method-other"},
		{"another class", func(a *Treatment) { a.FormulationClass = "brand" }, 1, "row 2 treatment-formulation-other"},
		{"words left blank", func(a *Treatment) { a.Method, a.FormulationClass = "", "" }, 1, ""},
	} {
		a := good()
		c.change(&a)
		kept, findings := Check([]Treatment{a}, Options{End: day("2026-09-30")})
		if len(kept) != c.kept || codes(findings) != c.want {
			t.Errorf("%s: kept %d with %q, want %d with %q", c.name, len(kept), codes(findings), c.kept, c.want)
		}
		if len(kept) > 0 && (kept[0].TreatedAcres <= 0 || kept[0].TreatedAcres > MostAcres || kept[0].Amount < 0 || kept[0].Amount > mostAmount ||
			kept[0].Wind < 0 || kept[0].Wind > mostWind || kept[0].Temperature > mostTemperature || kept[0].Temperature < leastTemperature ||
			kept[0].Hours <= 0 || kept[0].Hours > mostHours) {
			t.Errorf("%s: kept %+v", c.name, kept[0])
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

// TestCheckOrder: the result depends on the set of rows, not on their order; exact copies are
// dropped, and the work is sorted by date.
func TestCheckOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var actions []Treatment
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

// TestClockTime: times of day as people write them; by hand.
func TestClockTime(t *testing.T) {
	for text, want := range map[string]time.Duration{
		"": -1, "08:30": 510, "8:30": 510, "8:30 am": 510, "8:30 PM": 1230, "0830": 510, "12:00 a.m.": 0, "3pm": 900, "2026-07-05T08:30:00Z": 510,
		"2026-07-05 17:15": 1035, "14h20": 860, "24:30": -2, "morning": -2, "8": -2,
	} {
		got, ok := clockTime(text)
		if want == -2 && ok || want >= 0 && (!ok || got != want*time.Minute) || want == -1 && !ok || want < 0 && got != -1 {
			t.Errorf("%q: %v %v", text, got, ok)
		}
	}
}

// TestBoundsAreThoseOfTheCheck: a form accepts exactly the values that Check keeps, at the limits
// and beyond them.
func TestBoundsAreThoseOfTheCheck(t *testing.T) {
	fields := map[string]func(*Treatment) *float64{
		"treated_acres": func(a *Treatment) *float64 { return &a.TreatedAcres }, "amount": func(a *Treatment) *float64 { return &a.Amount },
		"wind_mps": func(a *Treatment) *float64 { return &a.Wind }, "temperature_c": func(a *Treatment) *float64 { return &a.Temperature },
		"hours": func(a *Treatment) *float64 { return &a.Hours },
	}
	for column, of := range fields {
		low, high, open, ok := Bounds(column)
		if !ok {
			t.Fatalf("%s has no bounds", column)
		}
		for x, want := range map[float64]bool{low: !open, high: true, math.Nextafter(low, -1e9): false, math.Nextafter(high, 1e9): false} {
			a := good()
			a.AmountUnit = "L"
			*of(&a) = x
			kept, _ := Check([]Treatment{a}, Options{})
			if len(kept) != 1 || math.IsNaN(*of(&kept[0])) == want {
				t.Errorf("%s = %v: kept %v, want it kept: %v", column, x, kept, want)
			}
		}
	}
	if _, _, _, ok := Bounds("product"); ok {
		t.Error("a text has bounds")
	}
}

package treatment

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// only checks one piece of work and returns it as accepted, with the findings.
func only(t *testing.T, change func(a *Treatment)) (Treatment, string) {
	t.Helper()
	a := good()
	change(&a)
	kept, findings := Check([]Treatment{a}, Options{End: day("2026-09-30")})
	if len(kept) != 1 {
		t.Fatalf("kept %d: %v", len(kept), findings)
	}
	var said []string
	for _, f := range findings {
		said = append(said, fmt.Sprintf("%s %s %q: %s", f.Rule.Code, f.Field, f.Value, f.Message))
	}
	return kept[0], strings.Join(said, "; ")
}

// TestMeasuresAtTheirBounds: the last accepted value and the first rejected one; by hand.
func TestMeasuresAtTheirBounds(t *testing.T) {
	for name, m := range map[string]struct {
		of          func(a *Treatment) *float64
		in, beyond  []float64
		said, field string
	}{
		"acres": {func(a *Treatment) *float64 { return &a.TreatedAcres }, []float64{0.0001, 0.5, 10_000}, []float64{10_000.5}, "above 10000 acres", "treated_acres"},
		"amount": {func(a *Treatment) *float64 { a.AmountUnit = "L"; return &a.Amount }, []float64{0.001, 0.5, 1_000_000}, []float64{0, 1_000_001},
			"not above 0 and up to 1000000", "amount"},
		"wind":        {func(a *Treatment) *float64 { return &a.Wind }, []float64{0, 0.5, 40}, []float64{-0.5, 40.5}, "not 0 to 40 m/s", "wind_mps"},
		"temperature": {func(a *Treatment) *float64 { return &a.Temperature }, []float64{-30, 0, 55}, []float64{-30.5, 55.5}, "not -30 to 55 degrees Celsius", "temperature_c"},
		"hours":       {func(a *Treatment) *float64 { return &a.Hours }, []float64{0.25, 1000}, []float64{0, -1, 1000.5}, "not above 0 and up to 1000", "hours"},
	} {
		for _, x := range m.in {
			a, said := only(t, func(a *Treatment) { *m.of(a) = x })
			if said != "" || *m.of(&a) != x {
				t.Errorf("%s of %g: %g, %q", name, x, *m.of(&a), said)
			}
		}
		for _, x := range m.beyond {
			a, said := only(t, func(a *Treatment) { *m.of(a) = x })
			want := fmt.Sprintf("treatment-measure-implausible %s %q: %s is %s; the value was left out", m.field, strconv.FormatFloat(x, 'f', -1, 64), m.field, m.said)
			if !math.IsNaN(*m.of(&a)) || said != want {
				t.Errorf("%s of %g: %g, %q, want %q", name, x, *m.of(&a), said, want)
			}
		}
	}
	for _, x := range []float64{0, -0.5, math.Inf(1), math.Inf(-1)} {
		a, said := only(t, func(a *Treatment) { a.TreatedAcres = x })
		if !math.IsNaN(a.TreatedAcres) || !strings.HasPrefix(said, "treatment-acres-not-positive treated_acres") {
			t.Errorf("%g acres: %g, %q", x, a.TreatedAcres, said)
		}
	}
}

// TestPlacesOfWork: a longitude past 180 is normalised; an impossible one is left out, with its
// value in the finding, if the stand is named; work without a position has none.
func TestPlacesOfWork(t *testing.T) {
	if a, said := only(t, func(a *Treatment) { a.Position = orb.Point{350, -20} }); said != "" || a.Position != (orb.Point{-10, -20}) || !a.Placed {
		t.Errorf("%+v, %q", a, said)
	}
	a, said := only(t, func(a *Treatment) { a.Position = orb.Point{10, -95} })
	if a.Placed || a.Position != (orb.Point{}) || !strings.HasPrefix(said, `treatment-position-left-out position "`) || !strings.Contains(said, "-95") {
		t.Errorf("%+v, %q", a, said)
	}
	_, findings := Check([]Treatment{{Row: 4, Date: day("2026-07-05"), TreatedAcres: 1, Application: noApplication()}}, Options{})
	if len(findings) != 1 || findings[0].Position != nil || findings[0].Record != "row 4" {
		t.Errorf("%+v", findings)
	}
	lost := good()
	lost.Date = time.Time{}
	if _, findings = Check([]Treatment{lost}, Options{}); len(findings) != 1 || findings[0].Position == nil || *findings[0].Position != lost.Position {
		t.Errorf("%+v", findings)
	}
}

// TestAreasOfWork: a bow tie of two triangles of a ten-thousandth of a degree is repaired to both
// of them, half of its square; an area across the antimeridian is continuous; a finding says why an
// area is left out.
func TestAreasOfWork(t *testing.T) {
	square := float64(earth.Area(areaAt(0.001)))
	bow := areaAt(0.001)
	bow[0][0][1], bow[0][0][2] = bow[0][0][2], bow[0][0][1]
	a, _ := only(t, func(a *Treatment) { a.Ground = bow })
	if got := float64(earth.Area(a.Ground)); math.Abs(got-square/2) > 1e-3*square {
		t.Errorf("a bow tie has %g m2, want %g", got, square/2)
	}
	a, _ = only(t, func(a *Treatment) {
		a.Ground = orb.MultiPolygon{{{{179.9995, -20}, {-179.9995, -20}, {-179.9995, -19.999}, {179.9995, -19.999}, {179.9995, -20}}}}
	})
	if got := float64(earth.Area(a.Ground)); math.Abs(got-square) > 1e-3*square || a.Ground.Bound().Max[0] < 180 {
		t.Errorf("across the antimeridian %g m2 in %v", got, a.Ground.Bound())
	}
	for want, ground := range map[string]orb.MultiPolygon{
		`a vertex of the area cannot be a position in degrees`: {{{{10, -20}, {10.001, -20}, {10.001, -120}, {10, -20}}}},
		`"": the area covers nothing`:                          areaAt(0),
		`the area has more than 10000 acres`:                   areaAt(0.1),
	} {
		a, said := only(t, func(a *Treatment) { a.Ground = ground })
		if a.Ground != nil || !strings.Contains(said, want) || !strings.HasSuffix(said, "; it was left out, and the work counts by its position and acres") {
			t.Errorf("%v, %q, want %q", a.Ground, said, want)
		}
	}
	// 0.063 degrees each way are 6 971 m by 6 588 m at 20 S, 11 350 acres; 0.058 are 9 620.
	if a, _ := only(t, func(a *Treatment) { a.Ground = areaAt(0.058) }); a.Ground == nil {
		t.Error("9 620 acres are left out")
	}
	if a, _ := only(t, func(a *Treatment) { a.Ground = areaAt(0.063) }); a.Ground != nil {
		t.Error("11 350 acres are taken")
	}
}

// TestOrderOfWork: by day, stand, position, method and product; rows with the same content are one,
// from whatever file. Each row below sorts after the one above it.
func TestOrderOfWork(t *testing.T) {
	steps := []func(a *Treatment){
		func(a *Treatment) {}, func(a *Treatment) { a.Application.Hours = 3 }, func(a *Treatment) { a.Temperature = 3 }, func(a *Treatment) { a.Wind = 3 }, func(a *Treatment) { a.End = "9:00" },
		func(a *Treatment) { a.Start = "8:00" }, func(a *Treatment) { a.Licence = "l" }, func(a *Treatment) { a.Applicator = "n" }, func(a *Treatment) { a.AmountUnit = "L" },
		func(a *Treatment) { a.Amount = 3 }, func(a *Treatment) { a.Registration = "r" }, func(a *Treatment) { a.Product = "p" }, func(a *Treatment) { a.TreatedAcres = 3 },
		func(a *Treatment) { a.FormulationClass = "general" }, func(a *Treatment) { a.Method = "mowing" }, func(a *Treatment) { a.Position[1] = -19 }, func(a *Treatment) { a.Position[0] = 11 },
		func(a *Treatment) { a.Placed = true }, func(a *Treatment) { a.StandID = "s" }, func(a *Treatment) { a.Date = day("2026-07-06") },
	}
	var rows []Treatment
	for i, step := range steps {
		a := Treatment{File: "f.csv", Row: i, Date: day("2026-07-05"), Position: orb.Point{10, -20}, Application: noApplication(), TreatedAcres: math.NaN()}
		step(&a)
		rows = append(rows, a)
	}
	for i := range rows {
		for k := range rows {
			if got := Compare(&rows[i], &rows[k]); (got < 0) != (i < k) || (got > 0) != (i > k) {
				t.Errorf("row %d and %d: %d", i, k, got)
			}
		}
	}
	a, b := good(), good()
	b.File, b.Row = "other.csv", 9
	c := b
	c.Ground = areaAt(0.001)
	if Compare(&a, &b) != 0 || Compare(&a, &c) == 0 {
		t.Error("what is the same work")
	}
	kept, findings := Check([]Treatment{b, a, c}, Options{})
	if len(kept) != 2 || codes(findings) != "row 2 treatment-duplicate" { // the second by the name of its file
		t.Errorf("%d kept, %s", len(kept), codes(findings))
	}
}

// TestUsesProduct: a product, its number or an amount counts as using one; the wind does not.
func TestUsesProduct(t *testing.T) {
	for i, test := range []struct {
		change func(a *Application)
		want   bool
	}{
		{func(*Application) {}, false}, {func(a *Application) { a.Product = "p" }, true}, {func(a *Application) { a.Registration = "r" }, true},
		{func(a *Application) { a.Amount = 0 }, true}, {func(a *Application) { a.Wind, a.Hours, a.Applicator = 1, 1, "n" }, false},
	} {
		a := noApplication()
		if test.change(&a); a.UsesProduct() != test.want {
			t.Errorf("%d: %v", i, !test.want)
		}
	}
}

// TestTimesOfDay: to the second, with or without a day in front; reversed times are reported only
// where both are known.
func TestTimesOfDay(t *testing.T) {
	for text, want := range map[string]time.Duration{"8:05:30 pm": 72_330, "20:05:30": 72_330, "2026-07-05T08:30": 30_600, "2026-07-05 8 AM": 28_800, "8.30": 30_600} {
		if got, ok := clockTime(text); !ok || got != want*time.Second {
			t.Errorf("%q: %v %v", text, got, ok)
		}
	}
	for i, test := range []struct {
		start, end string
		want       string
	}{
		{"8:00", "8:00", ""}, {"8:00", "7:59", "treatment-times-reversed"}, {"8:00", "", ""}, {"", "0:00", ""}, {"soon", "7:00", "treatment-time-unreadable"}, {"8:00", "late", "treatment-time-unreadable"},
	} {
		if _, said := only(t, func(a *Treatment) { a.Start, a.End = test.start, test.end }); (said == "") != (test.want == "") || !strings.HasPrefix(said, test.want) {
			t.Errorf("%d: %q", i, said)
		}
	}
}

// TestNamesOfSplits: the columns and labels of treated acres; each known word has one, and "other"
// and "not recorded" come last.
func TestNamesOfSplits(t *testing.T) {
	var got []string
	for _, s := range slices.Concat(ByMethod[:], ByClass[:]) {
		got = append(got, s.Acres()+": "+s.Label())
	}
	want := []string{
		"work_done_foliar_spray_acres: foliar spray", "work_done_cut_stump_acres: cut stump", "work_done_injection_acres: injection", "work_done_basal_bark_acres: basal bark",
		"work_done_hand_pull_acres: hand pull", "work_done_digging_acres: digging", "work_done_cutting_acres: cutting", "work_done_mowing_acres: mowing", "work_done_covering_acres: covering",
		"work_done_other_method_acres: another method", "work_done_no_method_acres: no method entered", "work_done_aquatic_labelled_acres: aquatic-labelled", "work_done_general_acres: general formulation",
		"work_done_no_formulation_acres: without a formulation", "work_done_other_class_acres: another class", "work_done_no_class_acres: no class entered",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	for i, word := range Methods() {
		if ByMethod[i].Word != word {
			t.Errorf("%s is told as %s", word, ByMethod[i].Word)
		}
	}
	for _, test := range []struct {
		day  string
		want bool
	}{{"2026-09-30", false}, {"2026-10-01", true}} {
		a := Treatment{Date: day(test.day)}
		if a.After(day("2026-09-30")) != test.want || a.After(time.Time{}) {
			t.Errorf("%s comes after the quarter: %v", test.day, !test.want)
		}
	}
}

// TestWeightOfFindings: which findings reject a row, which change or leave out something, and which
// change no figure; rules used by other packages are in the same list.
func TestWeightOfFindings(t *testing.T) {
	want := map[check.Severity][]string{
		check.Error: {"treatment-date-missing", "treatment-duplicate", "treatment-not-finite", "treatment-null-island", "treatment-out-of-range", "treatment-without-place"},
		check.Warning: {
			"treatment-acres-beyond-stand", "treatment-acres-not-positive", "treatment-area-elsewhere", "treatment-area-left-out", "treatment-measure-implausible",
			"treatment-position-left-out", "treatment-times-reversed", "treatment-too-late",
		},
		check.Note: {
			"treatment-acres-missing", "treatment-after-quarter", "treatment-amount-without-unit", "treatment-before-quarter", "treatment-form-blank", "treatment-formulation-other",
			"treatment-method-other", "treatment-photos-unnumbered", "treatment-time-unreadable",
		},
	}
	got := map[check.Severity][]string{}
	for _, r := range Rules() {
		got[r.Severity] = append(got[r.Severity], r.Code)
	}
	for severity, codes := range want {
		if slices.Sort(got[severity]); !slices.Equal(got[severity], codes) {
			t.Errorf("%v: %q, want %q", severity, got[severity], codes)
		}
	}
	for code, r := range map[string]check.Rule{
		"treatment-position-left-out": RulePositionLeftOut(), "treatment-acres-beyond-stand": RuleBeyondStand(), "treatment-area-elsewhere": RuleElsewhere(), "treatment-before-quarter": RuleBeforeQuarter(),
		"treatment-too-late": RuleTooLate(),
	} {
		if r.Code != code {
			t.Errorf("%s is %s", code, r.Code)
		}
	}
}

// TestADayOfACrew: a file of one day as a crew may hand it in, with what is accepted and what is
// reported, row by row, by hand: 1.25 of the reported acres are accepted, on three stands and at
// one place.
func TestADayOfACrew(t *testing.T) {
	row := func(n int, change func(a *Treatment)) Treatment {
		a := Treatment{File: "day.csv", Row: n, Date: day("2026-07-05"), TreatedAcres: math.NaN(), Application: noApplication()}
		change(&a)
		return a
	}
	rows := []Treatment{
		row(2, func(a *Treatment) { a.StandID, a.Method, a.TreatedAcres = "S1", "Foliar_Spray", 0.5 }),
		row(3, func(a *Treatment) { a.StandID, a.Method, a.TreatedAcres = "S1", "foliar spray", 0.5 }), // the same, written differently
		row(4, func(a *Treatment) {
			a.StandID, a.TreatedAcres, a.FormulationClass, a.Product, a.Amount = "S2", 0.25, "AQUATIC LABELLED", "Clear", 2
		}),
		row(5, func(a *Treatment) { a.TreatedAcres = 3 }), // where?
		row(6, func(a *Treatment) { a.Placed, a.Position, a.TreatedAcres = true, orb.Point{-98.4, 36.2}, 0.5 }),
		row(7, func(a *Treatment) { a.StandID, a.Method, a.Temperature = "S3", "with goats", 95 }),
		row(8, func(a *Treatment) { a.StandID, a.Date, a.TreatedAcres = "S4", time.Time{}, 1 }),
	}
	kept, findings := Check(rows, Options{End: day("2026-09-30")})
	acres := 0.0
	var taken []string
	for _, a := range kept {
		taken = append(taken, strings.Join([]string{a.StandID, a.Method, a.FormulationClass}, "|"))
		if !math.IsNaN(a.TreatedAcres) {
			acres += a.TreatedAcres
		}
	}
	if want := []string{"||", "S1|foliar spray|", "S2||aquatic-labelled", "S3|with goats|"}; !slices.Equal(taken, want) || acres != 1.25 {
		t.Errorf("%q, %g acres", taken, acres)
	}
	said := strings.Split(codes(findings), "; ")
	slices.Sort(said)
	want := []string{
		"row 3 treatment-duplicate", "row 4 treatment-amount-without-unit", "row 5 treatment-without-place", "row 7 treatment-acres-missing", "row 7 treatment-measure-implausible",
		"row 7 treatment-method-other", "row 8 treatment-date-missing",
	}
	if !slices.Equal(said, want) {
		t.Errorf("%q", said)
	}
}

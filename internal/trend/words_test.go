package trend

import (
	"slices"
	"testing"

	"driftreach/internal/survey"
)

// TestEverySentenceOfAVerdict: by hand, from the rules: the verdict, its basis, the quarter from
// which it counts, and the number of tests it allows for.
func TestEverySentenceOfAVerdict(t *testing.T) {
	q := func(text string) survey.Quarter { return quarter(t, text) }
	acres := Trend{Measure: Infested, Quarters: 8, Slope: -1.5, Begin: 9 * PerUnit, End: 2 * PerUnit, First: q("2024Q1"), Last: q("2025Q4"), Direction: Falling,
		Test: Test{N: 8, S: -20, Variance: 65, P: 0.01, LeastP: 0.0001}, Adjusted: 0.01, Correlation: 0.5}
	for _, c := range []struct {
		name                  string
		change                func(t *Trend)
		words, beside, ground string
	}{
		{"alone", func(*Trend) {}, "falling: -1.50 acres a year, p = 0.01", "falling, p = 0.01",
			"rests on changes between the last two looks at each place, in 8 quarters with a look; neighbouring quarters are taken to be correlated by 0.5; the error of the acreage itself is not known"},
		{"of one stream", func(t *Trend) { t.Tests = 1 }, "falling: -1.50 acres a year, p = 0.01", "falling, p = 0.01", ""},
		{"of two", func(t *Trend) { t.Tests, t.Adjusted = 2, 0.02 }, "falling: -1.50 acres a year, p = 0.01 (0.02 when corrected for 2 tests)", "falling, p = 0.01 (0.02 when corrected for 2 tests)", ""},
		{"none left", func(t *Trend) { t.Tests, t.Adjusted, t.End = 3, 0.00001, 0 }, "falling: -1.50 acres a year, p = 0.01 (below 0.0001 when corrected for 3 tests); none left in 2025Q4", "falling, p = 0.01 (below 0.0001 when corrected for 3 tests); none left in 2025Q4", ""},
		{"surely", func(t *Trend) { t.Test.P, t.Slope, t.Direction = 0.00001, 2, Rising }, "rising: +2.00 acres a year, p < 0.0001", "rising, p < 0.0001", ""},
		{"not when corrected", func(t *Trend) { t.Direction, t.Tests, t.Adjusted = NoTrend, 4, 0.06 }, "no trend shown: -1.50 acres a year, p = 0.01, but 0.06 when corrected for 4 tests", "no trend shown, p = 0.01, but 0.06 when corrected for 4 tests", ""},
		{"within its error", func(t *Trend) { t.Direction, t.DoubtKnown, t.Doubt = NoTrend, true, 7.5 }, "no trend shown: -1.50 acres a year, p = 0.01, but the change of -7.00 is within its error of 7.50", "no trend shown, p = 0.01, but the change of -7.00 is within its error of 7.50",
			"rests on changes between the last two looks at each place, in 8 quarters with a look; neighbouring quarters are taken to be correlated by 0.5; the change may be off by 7.50 acres (P10 to P90), from errors of each measurement and of each crew in each quarter; errors of defaults drop out"},
		{"none", func(t *Trend) { t.Direction, t.Test.P, t.Adjusted, t.Tests = NoTrend, 0.3, 0.4, 2 }, "no trend shown: -1.50 acres a year, p = 0.3 (0.4 when corrected for 2 tests)", "no trend shown, p = 0.3 (0.4 when corrected for 2 tests)", ""},
		{"nothing there", func(t *Trend) { t.Direction, t.Begin, t.End, t.Test.Variance = NoTrend, 0, 0, 0 }, "no trend shown: 0 in every quarter with a look", "no trend shown: 0 in every quarter with a look", ""},
		{"nobody looked", func(t *Trend) { *t = Trend{Measure: Infested, Direction: TooFew} }, "too few to tell: nobody looked in any quarter", "too few to tell: nobody looked in any quarter", ""},
		{"once", func(t *Trend) { t.Quarters, t.Direction = 1, TooFew }, "too few to tell: 1 quarter with a look, 5 are the fewest", "too few to tell: 1 quarter with a look, 5 are the fewest", ""},
		{"too few", func(t *Trend) { t.Quarters, t.Direction, t.Test.LeastP = 5, TooFew, 0.0733 }, "too few to tell: even a steady change over these 5 quarters gives p = 0.073", "too few to tell: even a steady change over these 5 quarters gives p = 0.073", ""},
		{"with gaps, corrected", func(t *Trend) { t.Missing, t.Corrected, t.Correlation = 2, []string{"s1"}, 0.125 }, "falling: -1.50 acres a year, p = 0.01", "falling, p = 0.01",
			"rests on changes between the last two looks at each place, in 8 quarters with a look (2 without); what corrections took back of stand s1 is left out; neighbouring quarters are taken to be correlated by 0.125; the error of the acreage itself is not known"},
		{"since a correction", func(t *Trend) {
			t.Since, t.Corrected, t.Quarters, t.Direction = q("2024Q1"), []string{"s1", "s2", "s3", "s4"}, 4, TooFew
		},
			"too few to tell: 4 quarters with a look since 2024Q1, because corrections took back changes of stands s1, s2, s3 and 1 more that cannot be told from other changes up to then, 5 are the fewest", "too few to tell: 4 quarters with a look since 2024Q1, because corrections took back changes of stands s1, s2, s3 and 1 more that cannot be told from other changes up to then, 5 are the fewest", ""},
		{"reach", func(t *Trend) { t.Measure, t.Since, t.Missing = ReachAtRisk, q("2024Q1"), 1 }, "falling: -1.5 km a year, p = 0.01", "falling, p = 0.01",
			"rests on the levels of 8 quarters, each of all ground looked at until then, as last seen (1 without) since 2024Q1, when streams, settings or corrections changed how it is made; neighbouring quarters are taken to be correlated by 0.5"},
		{"reach that ends in none", func(t *Trend) { t.Measure, t.End = ReachAtRisk, 0 }, "falling: -1.5 km a year, p = 0.01", "falling, p = 0.01", ""},
	} {
		tr := acres
		c.change(&tr)
		if got := [2]string{tr.Words(), tr.WordsBesideSlope()}; got != [2]string{c.words, c.beside} {
			t.Errorf("%s: %q", c.name, got)
		}
		if got := tr.Grounds(); c.ground != "" && got != c.ground {
			t.Errorf("%s: %q", c.name, got)
		}
		want := c.words
		if tr.Direction != TooFew {
			want += "; " + tr.Grounds() + "; survey effort moves acreage too"
		}
		if got := tr.Verdict(); got != want {
			t.Errorf("%s: %q", c.name, got)
		}
	}
	few := Trend{Measure: Live, Quarters: 3, Direction: TooFew, Corrected: []string{"a", "b"}}
	if got := few.Verdict(); got != "too few to tell: 3 quarters with a look, 5 are the fewest; what corrections took back of stands a, b is left out" {
		t.Error(got)
	}
	for name, tr := range map[string]Trend{"": {}, "Mann-Kendall": {Test: Test{N: 5}}, "Seasonal Kendall": {Test: Test{N: 5}, Seasonal: true}} {
		if got := tr.Method(); got != name {
			t.Errorf("%q, want %q", got, name)
		}
	}
}

// TestEveryColumnHasAName: every figure read from a summary has a column, and no two share one.
func TestEveryColumnHasAName(t *testing.T) {
	names := slices.Sorted(slices.Values(columns[:]))
	if names[0] == "" || len(slices.Compact(names)) != len(columns) {
		t.Errorf("%q", columns)
	}
}

// TestLiveAcresOfTheLargest: live acres computed for an earlier version stay within the largest
// figure that can be read, positive or negative: by hand, 2 to the power of 53 less 1.
func TestLiveAcresOfTheLargest(t *testing.T) {
	const most = 9007199254740991
	var f Figures
	for _, m := range []Measure{0, firstStep} {
		f[m+Live], f[m+Infested], f[m+Treated], f[m+StandingDead] = Blank, most, -most, 0
	}
	if f.live(); f[Live] != most || f[firstStep+Live] != most {
		t.Errorf("%d and %d", f[Live], f[firstStep+Live])
	}
	f[firstStep+Live], f[firstStep+Infested], f[firstStep+Treated] = Blank, -most, 5
	if f.live(); f[firstStep+Live] != -most {
		t.Errorf("%d", f[firstStep+Live])
	}
}

// TestTakenBackOfManyBatches: each batch of a chain lists all corrections up to it, so rows occur
// again among others, in any order, and count once each. By hand: of 4 acres more in the second
// quarter, 3 of one stand and 1 of another were taken back.
func TestTakenBackOfManyBatches(t *testing.T) {
	back := func(id string, acres int64) TakenBack {
		b := TakenBack{Taken: quarter(t, "2026Q3"), Quarter: quarter(t, "2026Q2"), StandID: id, Scope: "waterBody", Name: "Long Water"}
		b.Acres[Infested] = acres * PerUnit
		return b
	}
	batches := riverBatches(t)
	batches[0].TakenBack = []TakenBack{back("s2", 3), back("s1", 1)}
	batches[1].TakenBack = []TakenBack{back("s1", 1), back("s2", 3)}
	batches[2].TakenBack = []TakenBack{back("s2", 3), back("s1", 1)}
	h, err := Assemble(batches, DefaultRules())
	if err != nil {
		t.Fatal(err)
	}
	if got := h.Chain(1, Infested); !slices.Equal(got, []int64{14 * PerUnit, 14 * PerUnit, 20 * PerUnit}) || !slices.Equal(h.Sections[1].Corrected, []string{"s1", "s2"}) {
		t.Errorf("%v, of %v", got, h.Sections[1].Corrected)
	}
}

// TestRoundingOfWhatWasTakenBack: a change and the part taken back are each rounded, so that two
// millionths left over in one quarter are 0, and three are not. By hand: 4 acres more at the end,
// of which 3 were taken back and slightly less than 1 was there before.
func TestRoundingOfWhatWasTakenBack(t *testing.T) {
	const millionth = PerUnit / 1_000_000
	for left, want := range map[int64]int64{millionth: 0, 2 * millionth: 0, 3 * millionth: 3 * millionth} {
		batches := riverBatches(t)[:2]
		for k := range batches {
			for i := range batches[k].Rows {
				f := &batches[k].Rows[i].Figures
				f[Infested] = []int64{0, PerUnit}[k]
				if k > 0 {
					f[Infested.Step()] = 4*PerUnit - left
				}
				batches[k].Rows[i].Looks[0].Acres = f[Infested]
			}
		}
		b := TakenBack{Taken: quarter(t, "2026Q2"), Quarter: quarter(t, "2026Q2"), StandID: "s", Scope: "waterBody", Name: "Long Water"}
		b.Acres[Infested] = 3 * PerUnit
		batches[1].TakenBack = []TakenBack{b}
		h, err := Assemble(batches, DefaultRules())
		if err != nil {
			t.Fatal(err)
		}
		if got := h.Chain(1, Infested); got[0] != want || got[1] != PerUnit {
			t.Errorf("%d left over: %v, want %d", left, got, want)
		}
	}
}

package trend

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func trendOf(t testing.TB, rules Rules, first string, acres ...float64) Trend {
	t.Helper()
	h, err := Assemble(totals(t, first, acres...), rules)
	if err != nil {
		t.Fatal(err)
	}
	return h.Trend(0, Infested)
}

// Derived by hand, each in its comment, for independent quarters, so that p is that of the printed
// tables.
func TestTrendsByHand(t *testing.T) {
	cases := []struct {
		name      string
		acres     []float64
		direction Direction
		method    string
		slope     float64
		missing   int
	}{
		{"one quarter", []float64{3}, TooFew, "", 0, 0},
		// 1 acre a quarter is 4 a year, but four quarters are too few.
		{"four quarters", []float64{4, 3, 2, 1}, TooFew, "", -4, 0},
		{"five falling quarters", []float64{5, 4, 3, 2, 1}, Falling, methodPlain, -4, 0},
		{"five rising quarters", []float64{1, 2, 3, 4, 5}, Rising, methodPlain, 4, 0},
		{"five and no order", []float64{2, 1, 3, 2, 2}, NoTrend, methodPlain, 0, 0},
		// The gap stays in time: six quarters of time, the same line.
		{"five of six quarters", []float64{6, 5, -1, 3, 2, 1}, Falling, methodPlain, -4, 1},
		{"seven rising", []float64{1, 2, 3, 4, 5, 6, 7}, Rising, methodPlain, 4, 0},
		{"eight rising", []float64{1, 2, 3, 4, 5, 6, 7, 8}, Rising, methodPlain, 4, 0},
		// Only the seasons go up and down over five years: equal quarters do not change.
		{"five years of seasons", repeated(5, []float64{1, 5, 9, 2}, 0), NoTrend, MethodSeasonal, 0, 0},
		{"five years, each a little less", repeated(5, []float64{11, 15, 19, 13}, -1), Falling, MethodSeasonal, -1, 0},
		{"always the same", []float64{2, 2, 2, 2, 2, 2}, NoTrend, methodPlain, 0, 0},
		// A successful programme: 0 is a value.
		{"cleared and looked at since", []float64{4, 3, 2, 0, 0, 0}, Falling, methodPlain, -4, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := trendOf(t, Rules{}, "2024Q1", c.acres...)
			if got.Direction != c.direction || got.Method() != c.method || !near(got.Slope, c.slope, 1e-9) || got.Missing != c.missing {
				t.Errorf("%s by %q, slope %v, %d missing", got.Direction, got.Method(), got.Slope, got.Missing)
			}
			if v := got.Verdict(); !strings.HasPrefix(v, string(c.direction)) {
				t.Errorf("verdict %q", v)
			}
		})
	}
}

// repeated is a year's quarters for some years, moved by step each year.
func repeated(years int, quarters []float64, step float64) []float64 {
	var out []float64
	for y := range years {
		for _, v := range quarters {
			out = append(out, v+step*float64(y))
		}
	}
	return out
}

// By hand: values 0 and 4 acres a year and a half apart (five quarters missing in between), slope
// 8/3 a year; without the gap it would be 16.
func TestGapsKeepTheirPlace(t *testing.T) {
	got := trendOf(t, DefaultRules(), "2024Q4", 0, -1, -1, -1, -1, -1, 4)
	if !near(got.Slope, 4/1.5, 1e-12) || got.Missing != 5 || got.Quarters != 2 {
		t.Errorf("%+v", got)
	}
	if got.First.String() != "2024Q4" || got.Last.String() != "2026Q2" || got.Begin != 0 || got.End != 4*PerUnit {
		t.Errorf("%+v", got)
	}
}

// The worked example as twenty batches: every number of the test, and the whole verdict.
func TestWorkedExampleAsBatches(t *testing.T) {
	var acres []float64
	for year := range 5 {
		for season := range 4 {
			acres = append(acres, quarterly[season][year])
		}
	}
	got := trendOf(t, Rules{}, "2021Q1", acres...)
	if got.Test.S != -35 || !near(got.Test.Variance, 65.6667, 5e-5) || !near(got.Test.P, 2.72007e-05, 5e-11) || !near(got.Slope, -0.558333, 5e-7) {
		t.Errorf("%+v", got)
	}
	want := "falling: -0.56 acres a year, p < 0.0001; rests on changes between the last two looks at each place, in 20 quarters with a look; " +
		"neighbouring quarters are taken to be correlated by 0; the error of the acreage itself is not known; survey effort moves acreage too"
	if v := got.Verdict(); v != want {
		t.Errorf("verdict %q, want %q", v, want)
	}
	// Intercept: the line goes through the median time 2023.375 and the median
	// value 12.7 ((12.6+12.8)/2 of the twenty sorted).
	if at := got.Intercept + got.Slope*2023.375; !near(at, 12.7, 1e-9) {
		t.Errorf("the line passes %v at the middle", at)
	}
}

// One more quarter of the same steady change never removes a verdict, at any length and
// correlation, with every quarter surveyed or every second one.
func TestASteadyChangeKeepsItsVerdict(t *testing.T) {
	for _, r := range []float64{0, 0.5, 0.8} {
		for _, every := range []int{1, 2, 3} {
			told := false
			for n := Fewest; n <= 42; n++ {
				var acres []float64
				for k := range n {
					v := 10 * math.Pow(1.05, float64(k))
					if k%every != 0 {
						v = -1
					}
					acres = append(acres, v)
				}
				got := trendOf(t, Rules{Correlation: r}, "2020Q2", acres...)
				if told && got.Direction != Rising {
					t.Errorf("correlation %g, every %d: told before quarter %d, now %q", r, every, n, got.Words())
				}
				told = told || got.Direction == Rising
			}
			if !told {
				t.Errorf("correlation %g, every %d: never told", r, every)
			}
		}
	}
}

// A history that begins later by any number of quarters has the same trend.
func TestShiftInTimeChangesNothing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		acres := rapid.SliceOfN(rapid.Map(rapid.IntRange(-1, 6), func(n int) float64 { return float64(n) }), 1, 20).Draw(r, "acres")
		acres[0] = 2
		base := trendOf(t, DefaultRules(), "2020Q1", acres...)
		q := quarter(t, "2020Q1")
		for range rapid.IntRange(1, 40).Draw(r, "later") {
			q = q.Next()
		}
		moved := trendOf(t, DefaultRules(), q.String(), acres...)
		if moved.Slope != base.Slope || moved.Test.S != base.Test.S || !near(moved.Test.P, base.Test.P, 1e-12) || moved.Direction != base.Direction || moved.Verdict() != base.Verdict() {
			r.Fatalf("%+v, was %+v", moved, base)
		}
		if base.Direction == Rising && base.Test.S <= 0 || base.Direction == Falling && base.Test.S >= 0 {
			r.Fatalf("%+v", base)
		}
	})
}

func TestVerdictsInWords(t *testing.T) {
	for _, c := range []struct {
		name  string
		acres []float64
		want  string
	}{
		{"one", []float64{3}, "too few to tell: 1 quarter with a look, 5 are the fewest"},
		{"four", []float64{4, 3, 2, 1}, "too few to tell: 4 quarters with a look, 5 are the fewest"},
		// Variance 25.2 where it would be 16.67: 9 / 5.02 deviations.
		{"five", []float64{1, 2, 3, 4, 5}, "too few to tell: even a steady change over these 5 quarters gives p = 0.073"},
		{"zero", []float64{0, 0, 0, 0, 0, 0}, "no trend shown: 0 in every quarter with a look"},
		{"the same throughout", []float64{2, 2, 2, 2, 2, 2}, "no trend shown: 0 acres a year, p = 1"},
		{"up and back to none", []float64{0, 1, 2, 2, 1, 0}, "no trend shown: 0 acres a year, p = 1"},
		{"eight", []float64{1, 2, 3, 4, 5, 6, 7, 8}, "rising: +4.00 acres a year, p = 0.014"},
		{"cleared", []float64{9, 7, 5, 3, 2, 1, 0, 0}, "falling: -5.24 acres a year, p = 0.017; none left in 2025Q4"},
	} {
		if got := trendOf(t, DefaultRules(), "2024Q1", c.acres...).Words(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestNumbersInVerdicts(t *testing.T) {
	for _, c := range []struct {
		m    Measure
		x    float64
		want string
	}{
		{Live, 0, "0"}, {Live, 1e-9, "0"}, {Live, -0.00004, "-0.00004"}, {Live, 0.0012, "+0.0012"}, {Live, -0.5583333, "-0.56"}, {Live, 9.99, "+9.99"}, {Live, -1234.5, "-1234.50"},
		{ReachAtRisk, 0, "0"}, {ReachAtRisk, 0.00001, "0"}, {ReachAtRisk, -0.034, "-0.034"}, {ReachAtRisk, 12.34, "+12.3"},
	} {
		if got := c.m.Signed(c.x); got != c.want {
			t.Errorf("%s %v is %q, want %q", c.m.Label(), c.x, got, c.want)
		}
		if got := c.m.Unsigned(c.x); got != strings.TrimLeft(c.want, "+-") {
			t.Errorf("without its sign %v is %q", c.x, got)
		}
	}
	for in, want := range map[float64]string{1: "1", 0.5: "0.5", 0.0123: "0.012", 0.0001: "0.0001", 0.00009999: "below 0.0001", 0: "below 0.0001"} {
		if got := PText(in); got != want {
			t.Errorf("PText(%v) = %q, want %q", in, got, want)
		}
	}
}

// Reach falls from 10 by 1 a quarter, and from the fifth quarter on it is made with other files: no
// verdict spans the change. With four quarters after it there is none, with seven one from those
// alone: p of seven falling values is 2/5040 (tables of Kendall's S).
func TestNoVerdictAcrossABreakOfReach(t *testing.T) {
	for quarters, want := range map[int]struct {
		direction Direction
		counted   int
	}{8: {TooFew, 4}, 11: {Falling, 7}} {
		var batches []Batch
		for k := range quarters {
			b := totals(t, "2024Q1", make([]float64, k+1)...)[k]
			b.Rows[0].Figures[ReachAtRisk] = int64(20-k) * PerUnit
			b.ReachApart = k == 4
			batches = append(batches, b)
		}
		h, err := Assemble(batches, Rules{})
		if err != nil {
			t.Fatal(err)
		}
		got := h.Trend(0, ReachAtRisk)
		if got.Direction != want.direction || got.Quarters != want.counted || got.First.String() != "2025Q1" || got.Begin != 16*PerUnit {
			t.Errorf("%d quarters: %+v", quarters, got)
		}
		if words := got.Words() + got.Grounds(); !strings.Contains(words, "since 2025Q1, when streams, settings or corrections changed") {
			t.Errorf("%d quarters: %s", quarters, words)
		}
		if want.direction == Falling && !near(got.Test.P, 2.0/5040, 1e-12) {
			t.Errorf("p is %v", got.Test.P)
		}
		if acres := h.Trend(0, Infested); !acres.Since.IsZero() || acres.Quarters != quarters {
			t.Errorf("acres break too: %+v", acres)
		}
	}
}

// TestEdgesOfAVerdict: there is a verdict up to a p of a twentieth and not above, alone or adjusted
// for tests made together; "too few" where even a steady change cannot reach a twentieth; and a
// change no larger than the error of the acreage is none.
func TestEdgesOfAVerdict(t *testing.T) {
	told := Trend{Quarters: 8, Adjusted: 0.05, Test: Test{S: 5, LeastP: 0.05}, Begin: PerUnit, End: 3 * PerUnit}
	for _, test := range []struct {
		name   string
		change func(t *Trend)
		want   Direction
	}{
		{"at the edge", func(*Trend) {}, Rising}, {"falling", func(t *Trend) { t.Test.S = -5 }, Falling}, {"beyond it", func(t *Trend) { t.Adjusted = 0.0501 }, NoTrend},
		{"could not be told", func(t *Trend) { t.Test.LeastP = 0.0501 }, TooFew}, {"four quarters", func(t *Trend) { t.Quarters = 4 }, TooFew}, {"five", func(t *Trend) { t.Quarters = 5 }, Rising},
		{"off by as much", func(t *Trend) { t.DoubtKnown, t.Doubt = true, 2 }, NoTrend}, {"off by less", func(t *Trend) { t.DoubtKnown, t.Doubt = true, 1.99 }, Rising},
		{"off by nobody knows what", func(t *Trend) { t.Doubt = 2 }, Rising},
	} {
		tr := told
		if test.change(&tr); tr.direction() != test.want {
			t.Errorf("%s: %s, want %s", test.name, tr.direction(), test.want)
		}
	}
}

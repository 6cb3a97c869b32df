package estimate

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Intervals printed to four places in R. G. Newcombe, Statistics in Medicine 17 (1998), 857-872,
// table I, method 3 (the score interval without correction).
func TestWilsonAgainstPrint(t *testing.T) {
	for _, tt := range []struct {
		k, n      int
		low, high float64
	}{{81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0, 0.1611}, {1, 29, 0.0061, 0.1718}} {
		got := Wilson(tt.k, tt.n)
		near(t, "value", got.Value, float64(tt.k)/float64(tt.n), 1e-15)
		near(t, "low", got.Low, tt.low, 5e-5)
		near(t, "high", got.High, tt.high, 5e-5)
	}
}

// isScore checks that an interval is the score interval of a share for a number of trials by its
// definition: a bound b is as far from the share as Normal standard errors of b itself, b(1-b)/n.
func isScore(t interface {
	Helper()
	Errorf(string, ...any)
}, i Interval, n float64) {
	t.Helper()
	for _, b := range []float64{i.Low, i.High} {
		if far, want := (i.Value-b)*(i.Value-b), Normal*Normal*b*(1-b)/n; math.Abs(far-want) > 1e-9*(1+want) {
			t.Errorf("the bound %g of %g: squared distance %g, want %g for %g trials", b, i.Value, far, want, n)
		}
	}
	if !(i.Low <= i.Value && i.Value <= i.High && i.Low >= 0 && i.High <= 1) || !(i.High > i.Low) {
		t.Errorf("%+v is no interval of a share", i)
	}
}

func TestWilsonByItsDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 500).Draw(t, "n")
		k := rapid.IntRange(0, n).Draw(t, "k")
		isScore(t, Wilson(k, n), float64(n))
		trials := rapid.Float64Range(0.3, 900).Draw(t, "trials")
		isScore(t, WilsonShare(float64(k)/float64(n), trials), trials)
		if a, b := Wilson(k, n), Wilson(n-k, n); math.Abs(a.Low-(1-b.High)) > 1e-12 || math.Abs(a.High-(1-b.Low)) > 1e-12 {
			t.Errorf("%d of %d: %+v, and of the others %+v", k, n, a, b)
		}
	})
	for _, trials := range []float64{0, -1, math.NaN()} {
		if WilsonShare(0.5, trials).Known() {
			t.Errorf("%g trials tell of a share", trials)
		}
	}
	if Wilson(0, -1).Known() {
		t.Error("fewer than no trials tell of a share")
	}
}

// The hours of sleep gained by ten patients, of Student, Biometrika 6 (1908), 1-25: with a
// denominator of one each, a ratio of sums is their mean, and its interval that of the paired t test,
// 0.7001142 to 2.4598858 in R's own example of its data set sleep.
func TestRatioAgainstStudent(t *testing.T) {
	var parts []Part
	for i, hours := range []float64{1.2, 2.4, 1.3, 1.3, 0, 1.0, 1.8, 0.8, 4.6, 1.4} {
		parts = append(parts, Part{fmt.Sprint(i), hours, 1})
	}
	got := Ratio(parts)
	near(t, "mean", got.Value, 1.58, 1e-12)
	near(t, "low", got.Low, 0.7001142, 5e-8)
	near(t, "high", got.High, 2.4598858, 5e-8)
}

// By hand: 3 of 4, 1 of 4 and 2 of 2 are 0.6 of 10. What is left over of the three is 0.6, -1.4 and
// 0.8, with squares of 2.96; 3/2 of it has the root 2.107131, a tenth is the standard error, and the
// quantile for two degrees of freedom is 4.302653.
func TestRatioByHand(t *testing.T) {
	parts := []Part{{"a", 2, 2}, {"b", 1, 4}, {"a", 1, 2}, {"c", 2, 2}}
	got := Ratio(parts)
	near(t, "ratio", got.Value, 0.6, 1e-12)
	near(t, "high", got.High, 0.6+4.302653*0.2107131, 1e-6)
	near(t, "low", got.Low, 0.6-4.302653*0.2107131, 1e-6)
	for i := range parts { // a denominator below 0, as of a loss, has the same width
		parts[i].At = -parts[i].At
	}
	near(t, "high of the opposite", Ratio(parts).High, -0.6+4.302653*0.2107131, 1e-6)

	if one := Ratio([]Part{{"a", 1, 2}, {"a", 0, 2}}); one.Value != 0.25 || !math.IsInf(one.Low, -1) || !math.IsInf(one.High, 1) {
		t.Errorf("one cluster: %+v, want 0.25 without bounds", one)
	}
	for _, none := range [][]Part{nil, {{"a", 0, 0}, {"b", 0, 0}}, {{"a", 1, 1}, {"b", 1, -1}}} {
		if Ratio(none).Known() || Share(none).Known() {
			t.Errorf("%v has a ratio", none)
		}
	}
}

// The order of the members does not matter, and a factor on all of a sum is one on the ratio.
func TestRatioOfAnyMembers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := make([]Part, rapid.IntRange(2, 12).Draw(t, "members"))
		for i := range parts {
			parts[i] = Part{rapid.SampledFrom([]string{"a", "b", "c", "d"}).Draw(t, "cluster"), rapid.Float64Range(0, 5).Draw(t, "upper"), rapid.Float64Range(0.1, 5).Draw(t, "at")}
		}
		want, turned := Ratio(parts), make([]Part, len(parts))
		for i, p := range parts {
			turned[len(parts)-1-i] = Part{"of " + p.Cluster, 3 * p.Upper, 2 * p.At}
		}
		got := Ratio(turned)
		for _, pair := range [][2]float64{{got.Value, 1.5 * want.Value}, {got.Low, 1.5 * want.Low}, {got.High, 1.5 * want.High}} {
			if pair[0] != pair[1] && !(math.Abs(pair[0]-pair[1]) <= 1e-9*(1+math.Abs(pair[1]))) {
				t.Errorf("%+v, want 1.5 times %+v", got, want)
			}
		}
	})
}

// By hand, from the same three clusters: the variance 0.2107131^2 is that of 0.24/0.0444 = 5.405405
// trials. With t of nine degrees of freedom for the ten trials and of two for the three clusters
// (2.262157 and 4.302653) these are 1.494184.
func TestShareByHand(t *testing.T) {
	parts := []Part{{"a", 3, 4}, {"b", 1, 4}, {"c", 2, 2}}
	got := Share(parts)
	near(t, "share", got.Value, 0.6, 1e-12)
	isScore(t, got, 5.405405405405405*math.Pow(2.2621571628/4.3026527299, 2))

	// clusters of two that all are halves differ in nothing: as many trials as clusters
	isScore(t, Share([]Part{{"a", 1, 2}, {"b", 1, 2}, {"c", 1, 2}}), 3)
	// clusters alike are never worth more than all trials: 4 of 8 in pairs of 1, 1, 1, 1.02 ...
	isScore(t, Share([]Part{{"a", 1, 2}, {"b", 1.01, 2}, {"c", 0.99, 2}, {"d", 1, 2}}), 8)
	isScore(t, Share([]Part{{"a", 0, 2}, {"b", 0, 2}, {"c", 0, 5}}), 3)
	isScore(t, Share([]Part{{"a", 2, 2}, {"b", 2, 2}}), 2)
	// half a trial in three clusters is half a trial, and not three
	isScore(t, Share([]Part{{"a", 0.1, 0.1}, {"b", 0.1, 0.1}, {"c", 0.3, 0.3}}), 0.5)
	if one := Share([]Part{{"a", 1, 4}, {"a", 2, 4}}); one != (Interval{0.375, 0, 1}) {
		t.Errorf("one cluster: %+v", one)
	}
	if over := Share([]Part{{"a", 3, 2}, {"b", 3, 2}}); over.Value != 1 || over.High != 1 {
		t.Errorf("more than all: %+v", over)
	}
}

// Two looks at each of four sites; at none, one of two, both and one of two something had come. By
// hand the shares of sites 0, 1/2, 1 and 1/2 have the variance 1/6, a mean of four the variance 1/24,
// and that is the variance of 6 trials. With t of seven and of three degrees of freedom (2.364624 and
// 3.182446) it is that of 3.312502. Drawing 40,000 times finds the variance to 1 part in 100.
func TestShareComeByHand(t *testing.T) {
	soon, late := Between{0, 1, 1}, Between{5, 6, 1}
	times := []Between{late, late, soon, late, soon, soon, late, soon}
	sites := []string{"a", "a", "b", "b", "c", "c", "d", "d"}
	got := ShareCome(times, sites, 2, 40000, 1)
	near(t, "share", got.Value, 0.5, 1e-12)
	want := wilson(0.5, 6*math.Pow(2.3646242516/3.1824463053, 2))
	near(t, "low", got.Low, want.Low, 2e-3)
	near(t, "high", got.High, want.High, 2e-3)
	if again := ShareCome(times, sites, 2, 40000, 1); again != got {
		t.Errorf("the same seed gives %+v and %+v", got, again)
	}
	if other := ShareCome(times, sites, 2, 40, 2); other == ShareCome(times, sites, 2, 40, 1) {
		t.Error("another seed draws the same")
	}

	// nothing had come by 0.5, and everything by 6: as many trials as sites
	isScore(t, ShareCome(times, sites, 0.5, 50, 1), 4)
	all := ShareCome(times, sites, 6, 50, 1)
	isScore(t, all, 4)
	near(t, "all", all.Value, 1, 1e-9)
	near(t, "none", ShareCome(times, sites, 0.5, 50, 1).Value, 0, 0)

	if ShareCome(nil, nil, 1, 50, 1).Known() {
		t.Error("no times tell of a share")
	}
	if one := ShareCome(times, []string{"a", "a", "a", "a", "a", "a", "a", "a"}, 2, 50, 1); math.Abs(one.Value-0.5) > 1e-12 || one.Low != 0 || one.High != 1 {
		t.Errorf("one site: %+v, want a half between 0 and 1", one)
	}
	// each time a site of its own: never worth more trials than times
	isScore(t, ShareCome(times[2:4], []string{"a", "b"}, 6, 50, 1), 2)
}

func TestIntervals(t *testing.T) {
	if got := (Interval{2, 1, 4}).Times(3); got != (Interval{6, 3, 12}) {
		t.Errorf("three times: %+v", got)
	}
	inf, nan := math.Inf(1), math.NaN()
	for _, tt := range []struct {
		i             Interval
		known, finite bool
	}{
		{Interval{2, 1, 4}, true, true}, {Interval{2, 0, 4}, true, false}, {Interval{2, -1, 4}, true, false}, {Interval{2, 1, inf}, true, false},
		{Interval{2, math.Inf(-1), 4}, true, false}, {Interval{2, 1, nan}, true, false}, {None(), false, false}, {Interval{nan, 1, 2}, false, false},
		{Interval{inf, 1, 2}, true, false},
	} {
		if tt.i.Known() != tt.known || tt.i.Finite() != tt.finite {
			t.Errorf("%+v: known %v, finite %v", tt.i, tt.i.Known(), tt.i.Finite())
		}
	}
	near(t, "normal quantile", Normal, 1.959963984540054, 1e-15) // NIST/SEMATECH e-Handbook, 1.3.6.7.1
}

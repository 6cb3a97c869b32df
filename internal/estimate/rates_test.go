package estimate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Animals of four kinds, 125, 18, 20 and 34, with chances of 1/2 + p/4, (1-p)/4, (1-p)/4 and p/4:
// the first example of A. P. Dempster, N. M. Laird and D. B. Rubin, Journal of the Royal Statistical
// Society B 39 (1977), 1-38, after C. R. Rao. They are p parts of a cause of 3/4, 0, 0, 1/4 and 1-p
// parts of one of 1/2, 1/4, 1/4, 0. Its maximum is the root of 197 p^2 - 15 p - 68: 0.626821498.
func TestRatesAgainstPrint(t *testing.T) {
	r := NewRates([]float64{125, 18, 20, 34}, []float64{3, 0, 0, 1}, []float64{2, 1, 1, 0})
	amounts, log := r.Fit()
	near(t, "p", amounts[0]/197, 0.626821498, 1e-8)
	near(t, "1-p", amounts[1]/197, 1-0.626821498, 1e-8)
	p := (15 + math.Sqrt(15*15+4*197*68)) / (2 * 197)
	want := 125*math.Log(197*(0.5+p/4)) + 38*math.Log(197*(1-p)/4) + 34*math.Log(197*p/4) - 197
	near(t, "log likelihood", log, want, 1e-9)
}

// By hand: causes that share no row each have the counts of their own; of two causes alike only the
// sum is known; one without any row has nothing; and a count that no cause explains cannot be.
func TestRatesByHand(t *testing.T) {
	r := NewRates([]float64{3, 4, 0, 5, 1}, []float64{1, 1, 1, 0, 0}, []float64{0, 0, 0, 2, 7})
	amounts, log := r.Fit()
	near(t, "of the first", amounts[0], 7, 1e-8)
	near(t, "of the second", amounts[1], 6, 1e-8)
	near(t, "log likelihood", log, 7*math.Log(7.0/3)+5*math.Log(6*2.0/9)+math.Log(6*7.0/9)-13, 1e-9)

	r = NewRates([]float64{3, 4}, []float64{1, 1}, []float64{5, 5}, []float64{0, 0})
	amounts, log = r.Fit()
	near(t, "of both alike", amounts[0]+amounts[1], 7, 1e-6)
	near(t, "of the empty one", amounts[2], 0, 1e-6)
	near(t, "log likelihood of both alike", log, 7*math.Log(3.5)-7, 1e-9)

	r = NewRates([]float64{0, 0}, []float64{1, 2})
	if amounts, log = r.Fit(); len(amounts) != 1 || amounts[0] != 0 || log != 0 {
		t.Errorf("nothing counted: %v, %g", amounts, log)
	}
	r = NewRates([]float64{1, 2}, []float64{0, 1})
	if _, log = r.Fit(); !math.IsInf(log, -1) {
		t.Errorf("a count without a cause has the log likelihood %g", log)
	}
}

// At the maximum more of a cause brings nothing where it has some, and costs where it has none (the
// conditions of W. Karush, H. W. Kuhn and A. W. Tucker). No other amounts are more likely.
func TestRatesAreTheMostLikely(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, causes := rapid.IntRange(1, 8).Draw(t, "rows"), rapid.IntRange(1, 4).Draw(t, "causes")
		columns := make([][]float64, causes)
		for k := range columns {
			columns[k] = rapid.SliceOfN(rapid.Float64Range(0.01, 1), rows, rows).Draw(t, "column")
			for i := range columns[k] {
				if i > 0 && rapid.IntRange(0, 3).Draw(t, "none") == 0 {
					columns[k][i] = 0
				}
			}
		}
		counts, n := make([]float64, rows), 0.0
		for i := range counts {
			for k := range columns {
				if columns[k][i] > 0 {
					counts[i] = float64(rapid.IntRange(0, 9).Draw(t, "count"))
					break
				}
			}
			n += counts[i]
		}
		r := NewRates(counts, columns...)
		amounts, log := r.Fit()
		sum := 0.0
		for k, a := range amounts {
			sum += a
			slope := -1.0
			for i := range r.counts {
				mu := 0.0
				for l := range amounts {
					mu += amounts[l] * r.columns[l][i]
				}
				slope += r.counts[i] * r.columns[k][i] / mu
			}
			if n > 0 && (slope > 1e-3 || a > 0.01 && slope < -1e-3) {
				t.Errorf("%v of %v: cause %d of %v has the slope %g", counts, columns, k, amounts, slope)
			}
		}
		if math.Abs(sum-n) > 1e-5*(1+n) {
			t.Errorf("amounts of %g for %g", sum, n)
		}
		other := rapid.SliceOfN(rapid.Float64Range(0.01, 20), causes, causes).Draw(t, "other")
		if n > 0 && r.value(other) > log+1e-9*(1+math.Abs(log)) {
			t.Errorf("%v is more likely than %v", other, amounts)
		}
	})
}

// By hand: 4x + y = 9 and x + 3y = 5 have the solution 2 and 1; with the first held, 3y = 5; and a
// system of which one row is the other's has none.
func TestSolve(t *testing.T) {
	a := [][]float64{{4, 1}, {1, 3}}
	both := solve(a, []float64{9, 5}, []int{0, 1})
	near(t, "x", both[0], 2, 1e-12)
	near(t, "y", both[1], 1, 1e-12)
	one := solve(a, []float64{9, 5}, []int{1})
	near(t, "y alone", one[0], 5.0/3, 1e-12)
	if len(one) != 1 {
		t.Errorf("%v of one free", one)
	}
	if got := solve([][]float64{{1, 2}, {2, 4}}, []float64{1, 2}, []int{0, 1}); got != nil {
		t.Errorf("a singular system has the solution %v", got)
	}
	if got := solve([][]float64{{0}}, []float64{1}, []int{0}); got != nil {
		t.Errorf("nothing times x is 1 for %v", got)
	}
}

// Package trend turns finished batches into series over the quarters and tests whether they rise or
// fall.
package trend

import (
	"math"
	"slices"
)

// exactUpTo is the number of values up to which a test's p is exact; above it the normal
// approximation is used. [C] the length of the printed tables (Kendall, Rank Correlation Methods,
// 1975; Helsel and others, Statistical Methods in Water Resources, 2020, table of Kendall's S).
const exactUpTo = 10

// Test is the result of a Kendall test for monotonic change.
type Test struct {
	N        int     // values
	Pairs    int     // pairs compared
	S        int     // rising pairs minus falling pairs
	Variance float64 // of S without a trend, corrected for ties
	Z        float64 // S in standard deviations, with continuity correction; 0 when S or Variance is 0
	P        float64 // two-sided, above 0 up to 1
	Tau      float64 // S / Pairs, -1 to 1; 0 without pairs
	Exact    bool    // P is exact, not approximate
	LeastP   float64 // P of this many different values when every pair rises
}

// seasonalKendall tests for a monotonic change by comparing values of the same season only. Each
// season's values must be in time order. S and Variance are the sums over the seasons (Hirsch,
// Slack and Smith, Water Resources Research 18, 107-121, 1982), which treats the seasons as
// independent. P is as for MannKendall, by the number of all values: exact up to exactUpTo, from
// every combination of orders within the seasons.
func seasonalKendall(seasons [][]float64) Test {
	var t Test
	null, steady := certain(), certain()
	tied, untied := 0, 0 // 18 times the variance
	for _, values := range seasons {
		n := len(values)
		groups := tieGroups(values)
		t.N += n
		t.Pairs += n * (n - 1) / 2
		t.S += score(values)
		tied += variance18(n, groups)
		untied += variance18(n, nil)
	}
	t.Variance = float64(tied) / 18
	t.Exact = t.N <= exactUpTo
	if t.Exact {
		for _, values := range seasons {
			null = null.and(orders(len(values), tieGroups(values)))
			steady = steady.and(orders(len(values), nil))
		}
		t.P, t.LeastP = null.twoSided(t.S), steady.twoSided(t.Pairs)
	} else {
		t.P, t.LeastP = normalP(deviations(t.S, t.Variance)), normalP(deviations(t.Pairs, float64(untied)/18))
	}
	t.Z = deviations(t.S, t.Variance)
	if t.Pairs > 0 {
		t.Tau = float64(t.S) / float64(t.Pairs)
	}
	return t
}

// score is Kendall's S: rising pairs minus falling pairs.
func score(values []float64) int {
	s := 0
	for i, earlier := range values {
		for _, later := range values[i+1:] {
			switch {
			case later > earlier:
				s++
			case later < earlier:
				s--
			}
		}
	}
	return s
}

// tieGroups returns the sizes of the groups of equal values, except single values.
func tieGroups(values []float64) []int {
	sorted := slices.Sorted(slices.Values(values))
	var groups []int
	for begin := 0; begin < len(sorted); {
		end := begin + 1
		for end < len(sorted) && sorted[end] == sorted[begin] {
			end++
		}
		if end-begin > 1 {
			groups = append(groups, end-begin)
		}
		begin = end
	}
	return groups
}

// variance18 is 18 times the variance of S for n values with the given ties: Kendall 1975, equation
// 4.4. It is a whole number, so sums are the same in any order.
func variance18(n int, ties []int) int {
	v := n * (n - 1) * (2*n + 5)
	for _, t := range ties {
		v -= t * (t - 1) * (2*t + 5)
	}
	return v
}

// deviations returns s, moved one towards 0, in standard deviations. S changes in steps of 2, so
// the continuity correction is half a step.
func deviations(s int, variance float64) float64 {
	switch {
	case variance <= 0 || s == 0:
		return 0
	case s > 0:
		return float64(s-1) / math.Sqrt(variance)
	}
	return float64(s+1) / math.Sqrt(variance)
}

// normalP is the two-sided tail probability of the normal distribution.
func normalP(z float64) float64 { return math.Erfc(math.Abs(z) / math.Sqrt2) }

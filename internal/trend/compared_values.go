package trend

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// compared is the values of a series, prepared for a test.
type compared struct {
	samples []Sample
	seasons []int
	ages    []map[int]float64
}

func (c *compared) take(s Sample, season int, ages map[int]float64) {
	c.samples, c.seasons, c.ages = append(c.samples, s), append(c.seasons, season), append(c.ages, ages)
}

// memory stores variances of S. They depend on when somebody looked, not on what was found, so most
// measures and sections share them.
type memory map[string]float64

// test fills in slope and test of a trend.
func (c *compared) test(t *Trend, seasonal bool, rules Rules, kept memory) {
	groups := c.groups(seasonal)
	t.Slope = Slope(groups...)
	if t.Quarters >= Fewest {
		t.Correlation = correlation(c.samples, t.Slope, rules.Correlation)
		t.Test = c.kendall(groups, seasonal, t.Correlation, kept)
		if seasonal && t.Test.LeastP > Alpha { // too few values of the same season yet
			seasonal, groups = false, c.groups(false)
			t.Slope = Slope(groups...)
			t.Test = c.kendall(groups, false, t.Correlation, kept)
		}
	} else if seasonal {
		seasonal, t.Slope = false, Slope(c.samples)
	}
	t.Seasonal = seasonal
	t.Intercept = Intercept(t.Slope, c.samples)
}

// groups are the groups of values that are compared with each other.
func (c *compared) groups(seasonal bool) [][]Sample {
	if !seasonal {
		return [][]Sample{c.samples}
	}
	groups := make([][]Sample, 4)
	for i, s := range c.samples {
		groups[c.seasons[i]-1] = append(groups[c.seasons[i]-1], s)
	}
	return groups
}

// kendall tests the values. For values that are correlated, or based on looks of other quarters,
// the variance of S is the larger of two: spreadOfS for places that change together, and for places
// that change independently. It is reduced for ties in the same proportion as for independent
// values, and p is the normal approximation. Otherwise it is the test of seasonalKendall.
func (c *compared) kendall(groups [][]Sample, seasonal bool, r float64, kept memory) Test {
	t := seasonalKendall(values(groups))
	if r == 0 && c.fresh() || t.N == 0 {
		return t
	}
	untied := 0
	for _, g := range groups {
		untied += variance18(len(g), nil)
	}
	key := c.key(seasonal, r)
	most, known := kept[key]
	if !known {
		pairs := everyPair(c.seasons, seasonal)
		if most = spreadOfS(pairs, covariance(c.ages, r)); !c.fresh() {
			most = max(most, spreadOfS(pairs, covarianceOfPlaces(c.ages, r)))
		}
		kept[key] = most
	}
	t.Exact = false
	tied := t.Variance * 18 / float64(max(1, untied))
	t.Variance = most * tied
	t.Z = deviations(t.S, t.Variance)
	t.P, t.LeastP = normalP(t.Z), normalP(deviations(t.Pairs, most))
	return t
}

// fresh says whether every value is based on looks of one quarter, a different one for each value.
func (c *compared) fresh() bool {
	for i, shares := range c.ages {
		if _, own := shares[int(4*c.samples[i].Time)]; !own || len(shares) != 1 {
			return false
		}
	}
	return true
}

// key identifies a set of looks, with quarters counted from the first.
func (c *compared) key(seasonal bool, r float64) string {
	var b strings.Builder
	first := int(4 * c.samples[0].Time)
	fmt.Fprint(&b, seasonal, r)
	for i, shares := range c.ages {
		fmt.Fprint(&b, " ", int(4*c.samples[i].Time)-first, ":")
		for _, q := range slices.Sorted(maps.Keys(shares)) {
			fmt.Fprint(&b, q-first, "=", shares[q], ",")
		}
	}
	return b.String()
}

func values(groups [][]Sample) [][]float64 {
	out := make([][]float64, len(groups))
	for i, samples := range groups {
		for _, s := range samples {
			out[i] = append(out[i], s.Value)
		}
	}
	return out
}

package trend

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// oneSided is P(S >= s).
func (d scores) oneSided(s int) float64 {
	tail, all := 0.0, 0.0
	for k, count := range d.counts {
		all += count
		if d.most-2*k >= s {
			tail += count
		}
	}
	return tail / all
}

// Published: table of Kendall's S, one-sided, four decimals (Hollander and Wolfe
// 1973, reprinted by Helsel and Hirsch as table B8).
func TestExactTables(t *testing.T) {
	for _, c := range []struct {
		n, s int
		want float64
	}{
		{4, 0, .625}, {4, 2, .375}, {4, 4, .1667}, {4, 6, .0417},
		{5, 8, .0417}, {5, 10, .0083}, {10, 21, .0363}, {10, 23, .0233},
	} {
		if got := orders(c.n, nil).oneSided(c.s); !near(got, c.want, 5e-5) {
			t.Errorf("n %d, P(S >= %d) = %v, want %v", c.n, c.s, got, c.want)
		}
	}
}

// Derived by hand: with four values the smallest two-sided p is 2/24, above Alpha; with five 2/120.
func TestFewestIsWhereATrendCanShow(t *testing.T) {
	if got := MannKendall([]float64{1, 2, 3, 4}); got.P != 2.0/24 || got.P != got.LeastP || got.P <= Alpha {
		t.Errorf("four: %+v", got)
	}
	if got := MannKendall([]float64{1, 2, 3, 4, 5}); got.P != 2.0/120 || got.P > Alpha {
		t.Errorf("five: %+v", got)
	}
	// Two years of four quarters: each of four pairs rises or falls, 2 of 16.
	two := [][]float64{{1, 2}, {1, 2}, {1, 2}, {1, 2}}
	if got := seasonalKendall(two); got.P != 0.125 || got.LeastP != 0.125 {
		t.Errorf("two years: %+v", got)
	}
}

// permutations calls do with every order of values; equal values count as different, which does not
// change the shares.
func permutations(values []float64, do func([]float64)) {
	var walk func(k int)
	walk = func(k int) {
		if k == len(values) {
			do(values)
			return
		}
		for i := k; i < len(values); i++ {
			values[k], values[i] = values[i], values[k]
			walk(k + 1)
			values[k], values[i] = values[i], values[k]
		}
	}
	walk(0)
}

// Counting every order one by one, with or without ties, gives the exact distribution.
func TestExactIsCounting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 5), func(n int) float64 { return float64(n) }), 0, 6).Draw(t, "values")
		d := orders(len(values), tieGroups(values))
		counted := map[int]float64{}
		all := 0.0
		permutations(slices.Clone(values), func(p []float64) { counted[score(p)]++; all++ })
		total := 0.0
		for _, count := range d.counts {
			total += count
		}
		for k, count := range d.counts {
			if s := d.most - 2*k; !near(count/total, counted[s]/all, 1e-12) {
				t.Fatalf("S %d: %v of %v, counted %v of %v", s, count, total, counted[s], all)
			}
		}
		for s := range counted {
			if abs(s) > d.most || (d.most-s)%2 != 0 {
				t.Fatalf("S %d is not in the distribution", s)
			}
		}
	})
}

// Ten values, one order at a time: 3 628 800 of them, with and without ties.
func TestExactOfTenIsCounting(t *testing.T) {
	if testing.Short() {
		t.Skip("counts ten factorial orders; left out of short tests")
	}
	for name, values := range map[string][]float64{"different": handbook, "tied": {1, 1, 2, 2, 2, 3, 4, 5, 5, 6}} {
		s, far, all := abs(score(values)), 0, 0
		permutations(slices.Clone(values), func(p []float64) {
			all++
			if abs(score(p)) >= s {
				far++
			}
		})
		if got := MannKendall(values).P; !near(got, float64(far)/float64(all), 1e-12) {
			t.Errorf("%s: p %v, counted %d of %d", name, got, far, all)
		}
	}
}

// The variance of the exact distribution is the formula's, for any ties.
func TestVarianceIsTheDistributions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 6), func(n int) float64 { return float64(n) }), 2, 10).Draw(t, "values")
		d := orders(len(values), tieGroups(values))
		square, all := 0.0, 0.0
		for k, count := range d.counts {
			s := float64(d.most - 2*k)
			square += s * s * count
			all += count
		}
		if want := float64(variance18(len(values), tieGroups(values))) / 18; !near(square/all, want, 1e-9) {
			t.Fatalf("variance %v, formula %v", square/all, want)
		}
	})
}

package trend

import (
	"math"
	"math/rand/v2"
	"testing"
)

// ownLooks returns ages of n consecutive quarters, each fully surveyed in itself.
func ownLooks(n int) []map[int]float64 {
	out := make([]map[int]float64, n)
	for i := range out {
		out[i] = map[int]float64{i: 1}
	}
	return out
}

// Without dependence the variance is Kendall's own formula, n(n-1)(2n+5)/18.
func TestSpreadOfIndependentValues(t *testing.T) {
	for n := 2; n <= 30; n++ {
		got := spreadOfS(everyPair(make([]int, n), false), covariance(ownLooks(n), 0))
		if want := float64(n*(n-1)*(2*n+5)) / 18; !near(got, want, 1e-9*want) {
			t.Errorf("%d: %v, want %v", n, got, want)
		}
	}
}

// By hand for three values of correlation r: the differences of 1 and 2 and of 2 and
// 3 have the correlation (2r - 1 - r^2) / (2 - 2r) = -(1-r)/2, and each of them with
// that of 1 and 3 half of sqrt((1-r^2)/(1-r)) = sqrt(1+r)/2. The variance is 3 plus
// 4/pi arcsin of each of the three.
func TestSpreadOfThreeValues(t *testing.T) {
	for _, r := range []float64{0, 0.25, 0.5, 0.8} {
		want := 3 + 4/math.Pi*(math.Asin(-(1-r)/2)+2*math.Asin(math.Sqrt(1+r)/2))
		if got := spreadOfS(everyPair(make([]int, 3), false), covariance(ownLooks(3), r)); !near(got, want, 1e-12) {
			t.Errorf("%g: %v, want %v", r, got, want)
		}
	}
}

// Above mostPairs a regular sample of pairs is used.
func TestSpreadOfManyValues(t *testing.T) {
	const n = 48
	pairs, cov := everyPair(make([]int, n), false), covariance(ownLooks(n), 0.5)
	exact := 0.0
	for _, p := range pairs {
		for _, q := range pairs {
			one := cov[p.j][q.j] - cov[p.j][q.i] - cov[p.i][q.j] + cov[p.i][q.i]
			exact += 2 / math.Pi * math.Asin(max(-1, min(1, one/math.Sqrt((2-2*cov[p.i][p.j])*(2-2*cov[q.i][q.j])))))
		}
	}
	if got := spreadOfS(pairs, cov); !near(got, exact, 0.01*exact) {
		t.Errorf("%v, want %v", got, exact)
	}
}

// trendless draws values of AR(1) with a correlation.
func trendless(random *rand.Rand, n int, r float64) []float64 {
	x := make([]float64, n)
	for k := range x {
		x[k] = random.NormFloat64()
		if k > 0 {
			x[k] = r*x[k-1] + math.Sqrt(1-r*r)*x[k]
		}
	}
	return x
}

// seriesTrend judges one series alone.
func seriesTrend(values []float64, ages []map[int]float64, rules Rules, kept memory) Trend {
	var c compared
	for k, v := range values {
		c.take(Sample{Time: 2020 + float64(k)/4, Value: v}, k%4+1, ages[k])
	}
	t := Trend{Quarters: len(values), Measure: Infested, End: 1}
	c.test(&t, len(values) >= seasonalSpan, rules, kept)
	t.Adjusted = t.Test.P
	t.Direction = t.direction()
	return t
}

func shifted(ages []map[int]float64) []map[int]float64 {
	out := make([]map[int]float64, len(ages))
	for i, shares := range ages {
		out[i] = map[int]float64{}
		for q, share := range shares {
			out[i][q+4*2020] = share
		}
	}
	return out
}

// A sample of what scripts/verdicts measures: at most 7 % of series without a trend get a verdict,
// and a steady 5 % a quarter with 5 % noise is found in 80 % at 12.
func TestVerdictsOfKnownSeries(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{8, 12, 20, 32} {
		wrong, kept, ages := 0, memory{}, shifted(ownLooks(n))
		const series = 1500
		for range series {
			if d := seriesTrend(trendless(random, n, 0.5), ages, DefaultRules(), kept).Direction; d == Rising || d == Falling {
				wrong++
			}
		}
		if share := float64(wrong) / series; share > 0.07 {
			t.Errorf("%d quarters: %.1f %% of trendless series get a verdict", n, 100*share)
		}
	}
	found, kept, ages := 0, memory{}, shifted(ownLooks(12))
	for range 300 {
		values := make([]float64, 12)
		for k := range values {
			values[k] = math.Pow(1.05, float64(k)) * (1 + 0.05*random.NormFloat64())
		}
		if seriesTrend(values, ages, DefaultRules(), kept).Direction == Rising {
			found++
		}
	}
	if found < 240 {
		t.Errorf("a steady change is found in %d of 300", found)
	}
}

// Ground surveyed in turn, a quarter of it each quarter: the values are based on looks of four
// quarters, and places without a trend still get no more verdicts.
func TestVerdictsOfGroundLookedAtByTurns(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	const n, panels, series = 24, 4, 1500
	ages := make([]map[int]float64, n)
	for k := range ages {
		ages[k] = map[int]float64{}
		for p := range panels {
			ages[k][max(0, k-(k-p+panels)%panels)] += 1.0 / panels
		}
	}
	told, kept, at := 0, memory{}, shifted(ages)
	for range series {
		values := make([]float64, n)
		for p := range panels {
			one := trendless(random, n, 0.5)
			for k := range values {
				values[k] += one[max(0, k-(k-p+panels)%panels)]
			}
		}
		if d := seriesTrend(values, at, DefaultRules(), kept).Direction; d == Rising || d == Falling {
			told++
		}
	}
	if share := float64(told) / series; share > 0.07 {
		t.Errorf("%.1f %% of trendless series get a verdict", 100*share)
	}
}

// From forty values on, a correlation stronger than the setting is noticed.
func TestCorrelationIsEstimatedInLongSeries(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for n, least := range map[int]float64{estimateFrom - 1: 0.5, 200: 0.6} {
		var samples []Sample
		for k, v := range trendless(random, n, 0.8) {
			samples = append(samples, Sample{Time: 2000 + float64(k)/4, Value: v})
		}
		got := correlation(samples, Slope(samples), 0.5)
		if got < least || n < estimateFrom && got != 0.5 || got > highestCorrelation {
			t.Errorf("%d values: %v", n, got)
		}
	}
}

package trend

import (
	"math"
	"slices"
)

// pair is two values that are compared, the earlier first.
type pair struct{ i, j int }

// everyPair lists the pairs of n values; with seasons, those of one season only.
func everyPair(seasons []int, seasonal bool) []pair {
	var pairs []pair
	for j := range seasons {
		for i := range j {
			if !seasonal || seasons[i] == seasons[j] {
				pairs = append(pairs, pair{i, j})
			}
		}
	}
	return pairs
}

// covariance returns that of values, each a weighted mean of looks, when the
// looks of quarters k apart are correlated by r to the power k, wherever they were
// (AR(1)). ages has each value's shares by the ordinal of the look's quarter. That
// all places move together is the worst case: places of their own make it less.
func covariance(ages []map[int]float64, r float64) [][]float64 {
	var quarters []int
	for _, shares := range ages {
		for q := range shares { // sorted below
			quarters = append(quarters, q)
		}
	}
	slices.Sort(quarters)
	quarters = slices.Compact(quarters)
	weights := make([][]float64, len(ages))
	for v, shares := range ages {
		weights[v] = make([]float64, len(quarters))
		for k, q := range quarters {
			weights[v][k] = shares[q]
		}
	}
	out := make([][]float64, len(ages))
	for a := range ages {
		out[a] = make([]float64, len(ages))
		smeared := make([]float64, len(quarters))
		for k := range quarters {
			for l, w := range weights[a] {
				if w != 0 {
					smeared[k] += w * math.Pow(r, math.Abs(float64(quarters[k]-quarters[l])))
				}
			}
		}
		for b := range ages {
			for k, w := range weights[b] {
				out[a][b] += w * smeared[k]
			}
		}
	}
	return out
}

// mostPairs bounds the pairs that every pair is held against in spreadOfS. Our
// choice: those of 32 quarters; beyond, every so many pairs stand for all.
const mostPairs = 496

// spreadOfS returns the variance of Kendall's S over the pairs when nothing
// changes and the values are normal with the given covariance: the sum over pairs
// of pairs of 2/pi arcsin of the correlation of their differences (Hamed, Journal
// of Hydrology 349, 350-363, 2008). Exact up to mostPairs pairs; above, every so
// many pairs are held against all, which is within 1 %. The cost is that of so
// many arcsines.
func spreadOfS(pairs []pair, cov [][]float64) float64 {
	step := 1
	if len(pairs) > mostPairs {
		step = len(pairs)/mostPairs | 1 // odd, so that it is in step with no year
	}
	deviation := make([]float64, len(pairs))
	for k, p := range pairs {
		deviation[k] = math.Sqrt(max(0, cov[p.i][p.i]+cov[p.j][p.j]-2*cov[p.i][p.j]))
	}
	sum, held := 0.0, 0
	for k := 0; k < len(pairs); k += step {
		held++
		p := pairs[k]
		for l, q := range pairs {
			both := deviation[k] * deviation[l]
			if both <= 1e-12 {
				continue
			}
			c := cov[p.j][q.j] - cov[p.j][q.i] - cov[p.i][q.j] + cov[p.i][q.i]
			sum += arcsine(c / both)
		}
	}
	if held == 0 {
		return 0
	}
	return sum * 2 / math.Pi * float64(len(pairs)) / float64(held)
}

// arcsine is that of a correlation; what lies within rounding of 1 is 1, where the
// arcsine is steep.
func arcsine(c float64) float64 {
	if math.Abs(c) > 1-1e-12 {
		return math.Copysign(math.Pi/2, c)
	}
	return math.Asin(c)
}

// estimateFrom is the number of values from which the correlation of a series is
// estimated: below it, estimates gave 12 to 27 % false verdicts (scripts/verdicts).
const estimateFrom = 40

// highestCorrelation bounds an estimate. Our choice: beyond it a series of decades
// is one look.
const highestCorrelation = 0.9

// correlation returns the serial correlation that a test allows for: the one set,
// and from estimateFrom values on the larger of that and the one of neighbouring
// quarters about the line of the slope, in steps of a twentieth.
func correlation(samples []Sample, slope, set float64) float64 {
	if len(samples) < estimateFrom {
		return set
	}
	at := Intercept(slope, samples)
	mean := 0.0
	rest := make([]float64, len(samples))
	for i, s := range samples {
		rest[i] = s.Value - at - slope*s.Time
		mean += rest[i] / float64(len(samples))
	}
	together, alone, neighbours := 0.0, 0.0, 0
	for i := range rest {
		alone += (rest[i] - mean) * (rest[i] - mean) / float64(len(rest))
		if i > 0 && samples[i].Time-samples[i-1].Time == 0.25 {
			together += (rest[i] - mean) * (rest[i-1] - mean)
			neighbours++
		}
	}
	if neighbours == 0 || alone == 0 {
		return set
	}
	found := math.Ceil(20*together/float64(neighbours)/alone) / 20
	return max(set, min(found, highestCorrelation))
}

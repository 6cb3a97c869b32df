package trend

import (
	"maps"
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
// looks of quarters k apart are correlated by r to the power k (AR(1)), wherever they
// were: all places move together. ages has each value's shares by the ordinal of the
// look's quarter.
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

// covarianceOfPlaces is covariance when each place moves by itself: of two values, what
// stands on looks of the same quarter is taken to be the same place, and the rest are
// held against each other in the order of their looks.
func covarianceOfPlaces(ages []map[int]float64, r float64) [][]float64 {
	out := make([][]float64, len(ages))
	for a := range ages {
		out[a] = make([]float64, len(ages))
	}
	for a := range ages {
		for b := range a + 1 {
			out[a][b] = together(ages[a], ages[b], r)
			out[b][a] = out[a][b]
		}
	}
	return out
}

// looksOf is a share and when it was looked at.
type looksOf struct {
	quarter int
	share   float64
}

// together is the covariance of two values by covarianceOfPlaces.
func together(a, b map[int]float64, r float64) float64 {
	same := 0.0
	var left, right []looksOf
	for _, q := range slices.Sorted(maps.Keys(a)) {
		both := min(a[q], b[q])
		same += both
		left = append(left, looksOf{q, a[q] - both})
	}
	for _, q := range slices.Sorted(maps.Keys(b)) {
		right = append(right, looksOf{q, b[q] - min(a[q], b[q])})
	}
	for i, k := 0, 0; i < len(left) && k < len(right); {
		part := min(left[i].share, right[k].share)
		same += part * math.Pow(r, math.Abs(float64(left[i].quarter-right[k].quarter)))
		left[i].share -= part
		right[k].share -= part
		if left[i].share <= 0 {
			i++
		} else {
			k++
		}
	}
	return same
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
	near, alone, neighbours := 0.0, 0.0, 0
	for i := range rest {
		alone += (rest[i] - mean) * (rest[i] - mean) / float64(len(rest))
		if i > 0 && samples[i].Time-samples[i-1].Time == 0.25 {
			near += (rest[i] - mean) * (rest[i-1] - mean)
			neighbours++
		}
	}
	if neighbours == 0 || alone == 0 {
		return set
	}
	found := math.Ceil(20*near/float64(neighbours)/alone) / 20
	return max(set, min(found, highestCorrelation))
}

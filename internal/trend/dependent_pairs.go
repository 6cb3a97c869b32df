package trend

import (
	"maps"
	"math"
	"slices"
)

// pair is two compared values, the earlier first.
type pair struct{ i, j int }

// everyPair lists the pairs of n values; if seasonal, only pairs within a season.
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

// covariance returns the covariance matrix of values, each a weighted mean of looks. Looks k
// quarters apart have a correlation of r to the power k (AR(1)), at any places: all places change
// together. ages gives each value's shares by the ordinal of the look's quarter.
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

// covarianceOfPlaces is covariance for places that change independently. Of two values, the shares
// from looks of the same quarter count as the same places. The remaining shares are paired in the
// order of their looks.
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

// looksOf is a share and the quarter of its look.
type looksOf struct {
	quarter int
	share   float64
}

// together is the covariance of two values for covarianceOfPlaces.
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

// mostPairs limits the pairs that spreadOfS compares with all pairs. Our choice: those of 32
// quarters; with more pairs, a regular sample is used.
const mostPairs = 496

// spreadOfS returns the variance of Kendall's S over the pairs when there is no trend and the
// values are normal with the given covariance: the sum over pairs of pairs of 2/pi arcsin of the
// correlation of their differences (Hamed, Journal of Hydrology 349, 350-363, 2008). Exact up to
// mostPairs pairs. Above that, a regular sample of pairs is compared with all pairs, which is
// within 1 %. Cost is the number of arcsines.
func spreadOfS(pairs []pair, cov [][]float64) float64 {
	step := 1
	if len(pairs) > mostPairs {
		step = len(pairs)/mostPairs | 1 // odd, so that it is never in step with the year
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

// arcsine is the arcsine of a correlation. A correlation within rounding of 1 counts as 1, where
// the arcsine is steep.
func arcsine(c float64) float64 {
	if math.Abs(c) > 1-1e-12 {
		return math.Copysign(math.Pi/2, c)
	}
	return math.Asin(c)
}

// estimateFrom is the number of values from which a series' own correlation is estimated: with
// fewer, estimates gave 12 to 27 % false verdicts (scripts/verdicts).
const estimateFrom = 40

// highestCorrelation is the upper limit of an estimate. Our choice: beyond it, a series of decades
// is practically one look.
const highestCorrelation = 0.9

// correlation returns the serial correlation that a test allows for: the setting, or, from
// estimateFrom values on, the larger of the setting and the estimate. The estimate is the
// correlation of neighbouring quarters' residuals from the slope line, rounded up to a twentieth.
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

package estimate

import "math"

// Wilson returns the share k of n, with the score interval of E. B. Wilson, "Probable inference,
// the law of succession, and statistical inference", Journal of the American Statistical
// Association 22 (1927), 209-212. It stays between 0 and 1 and has a width even where k is 0 or n.
// No estimate where n is 0.
func Wilson(k, n int) Interval {
	if n <= 0 {
		return None()
	}
	return wilson(float64(k)/float64(n), float64(n))
}

// wilson is Wilson for a share and a number of trials that need not be whole.
func wilson(p, n float64) Interval {
	z2 := Normal * Normal
	middle := (p + z2/(2*n)) / (1 + z2/n)
	half := Normal / (1 + z2/n) * math.Sqrt(p*(1-p)/n+z2/(4*n*n))
	i := Interval{p, max(0, middle-half), min(1, middle+half)}
	if p == 0 {
		i.Low = 0
	}
	if p == 1 {
		i.High = 1
	}
	return i
}

// WilsonShare is Wilson's interval for a share and an equivalent number of independent trials,
// which need not be whole; no estimate without trials.
func WilsonShare(share, trials float64) Interval {
	if !(trials > 0) {
		return None()
	}
	return wilson(share, trials)
}

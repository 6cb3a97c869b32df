package estimate

import "math"

// Part is one member's contribution to the two sums of a ratio.
type Part struct {
	Cluster   string
	Upper, At float64 // to the numerator and to the denominator
}

// Ratio returns the sum of Upper over the sum of At, with an interval that holds when members of a
// cluster are alike. By linearisation, the variance is that of the residuals Upper - ratio x At
// between clusters, with Student's t for one degree of freedom less than clusters (W. G. Cochran,
// Sampling Techniques, 3rd edition, 1977, sections 6.3 and 9A.1; K.-Y. Liang and S. L. Zeger,
// Biometrika 73 (1986), 13-22). No estimate where the denominator is 0, no bounds with fewer than
// two clusters.
func Ratio(parts []Part) Interval {
	upper, at := 0.0, 0.0
	for _, p := range parts {
		upper, at = upper+p.Upper, at+p.At
	}
	if at == 0 {
		return None()
	}
	r := upper / at
	sums := clusterSums(parts, func(p Part) float64 { return p.Upper - r*p.At })
	m := float64(len(sums))
	if m < 2 {
		return Interval{r, math.Inf(-1), math.Inf(1)}
	}
	squares := 0.0
	for _, s := range sums {
		squares += s * s
	}
	half := Student(m-1) * math.Sqrt(m/(m-1)*squares) / math.Abs(at)
	return Interval{r, r - half, r + half}
}

// Share returns the same ratio for members whose Upper is between 0 and At. Its bounds stay between
// 0 and 1, and the interval has a width even at 0 and 1: it is Wilson's score interval for the
// number of independent trials with the clustered variance (E. L. Korn and B. I. Graubard, Survey
// Methodology 24 (1998), 193-201, with their correction for few clusters). Where the variance is 0
// that number is the number of clusters.
func Share(parts []Part) Interval {
	linear := Ratio(parts)
	if !linear.Known() {
		return linear
	}
	p := min(1, max(0, linear.Value))
	clusters := float64(len(clusterSums(parts, func(Part) float64 { return 0 })))
	if clusters < 2 {
		return Interval{p, 0, 1}
	}
	trials := 0.0
	for _, one := range parts {
		trials += one.At
	}
	t := Student(clusters - 1)
	if deviation := (linear.High - linear.Value) / t; deviation > 0 && p > 0 && p < 1 {
		n := p * (1 - p) / (deviation * deviation)
		n *= math.Pow(Student(trials-1)/t, 2)
		return wilson(p, min(n, trials))
	}
	return wilson(p, min(clusters, trials))
}

// clusterSums sums a value of the members by cluster, in the order in which clusters first occur.
func clusterSums(parts []Part, of func(Part) float64) []float64 {
	place := map[string]int{}
	var sums []float64
	for _, p := range parts {
		k, known := place[p.Cluster]
		if !known {
			k = len(sums)
			place[p.Cluster] = k
			sums = append(sums, 0)
		}
		sums[k] += of(p)
	}
	return sums
}

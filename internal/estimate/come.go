package estimate

import "math/rand/v2"

// ShareCome returns the share of the times that are certainly past by a given time, with an
// interval that holds when members of a cluster are alike. The variance is that of the given number
// of bootstrap draws of whole clusters (A. C. Davison and D. V. Hinkley, Bootstrap Methods and
// their Application, 1997, section 3.8). The bounds are Wilson's for the number of independent
// times with the same variance, as in Share. clusters has one entry for each time.
func ShareCome(times []Between, clusters []string, by float64, draws int, seed uint64) Interval {
	if len(times) == 0 {
		return None()
	}
	all := NewTurnbull(times)
	p, _ := all.By(by)
	p = min(1, max(0, p))
	var groups [][]Between
	place := map[string]int{}
	for i, name := range clusters {
		k, known := place[name]
		if !known {
			k = len(groups)
			place[name] = k
			groups = append(groups, nil)
		}
		groups[k] = append(groups[k], times[i])
	}
	m := float64(len(groups))
	if m < 2 {
		return Interval{p, 0, 1}
	}
	random := rand.New(rand.NewPCG(seed, uint64(len(times))))
	values := make([]float64, draws)
	var drawn []Between
	for d := range values {
		drawn = drawn[:0]
		for range groups {
			drawn = append(drawn, groups[random.IntN(len(groups))]...)
		}
		one := NewTurnbull(drawn)
		values[d], _ = one.By(by)
	}
	if v := variance(values) * m / (m - 1); v > 1e-12 && p > 0 && p < 1 {
		ratio := Student(float64(len(times))-1) / Student(m-1)
		return wilson(p, min(p*(1-p)/v*ratio*ratio, float64(len(times))))
	}
	return wilson(p, min(m, float64(len(times))))
}

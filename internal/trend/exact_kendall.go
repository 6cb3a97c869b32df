package trend

// scores is the distribution of S over equally likely orders: counts[k] orders have S = most - 2k.
type scores struct {
	most   int
	counts []float64 // whole numbers below 2^53
}

// certain is the distribution of a constant S of 0.
func certain() scores { return scores{counts: []float64{1}} }

// orders returns the distribution of S over the different orders of n values, with groups of equal
// values of the given sizes. The number of orders with k falling pairs is the coefficient of q^k in
// the Gaussian multinomial [n]! / ([t1]! [t2]! ...), where [m] = 1 + q + ... + q^(m-1) (MacMahon
// 1916; Stanley, Enumerative Combinatorics 1, 1.7.1). n is at most exactUpTo. Cost is n cubed.
func orders(n int, ties []int) scores {
	d := certain()
	for m := 2; m <= n; m++ {
		d.most += m - 1
		d.counts = timesRun(d.counts, m)
	}
	for _, t := range ties {
		for m := 2; m <= t; m++ {
			d.most -= m - 1
			d.counts = overRun(d.counts, m)
		}
	}
	return d
}

// timesRun multiplies a polynomial by 1 + q + ... + q^(m-1).
func timesRun(a []float64, m int) []float64 {
	product := make([]float64, len(a)+m-1)
	for i, x := range a {
		for k := range m {
			product[i+k] += x
		}
	}
	return product
}

// overRun divides a polynomial by 1 + q + ... + q^(m-1), which must divide it.
func overRun(a []float64, m int) []float64 {
	quotient := make([]float64, len(a)-m+1)
	for i := range quotient {
		quotient[i] = a[i]
		for k := max(0, i-m+1); k < i; k++ {
			quotient[i] -= quotient[k]
		}
	}
	return quotient
}

// and returns the distribution of the sum of two independent scores.
func (d scores) and(e scores) scores {
	sum := scores{most: d.most + e.most, counts: make([]float64, len(d.counts)+len(e.counts)-1)}
	for i, x := range d.counts {
		for k, y := range e.counts {
			sum.counts[i+k] += x * y
		}
	}
	return sum
}

// twoSided returns the probability of a score at least as far from 0 as s.
func (d scores) twoSided(s int) float64 {
	far, all := 0.0, 0.0
	for k, count := range d.counts {
		all += count
		if abs(d.most-2*k) >= abs(s) {
			far += count
		}
	}
	return far / all
}

func abs(n int) int { return max(n, -n) }

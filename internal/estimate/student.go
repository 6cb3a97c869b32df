package estimate

import "math"

// Student returns the quantile of Student's t for a two-sided interval of coverage Level: 12.7062
// for 1 degree of freedom, Normal in the limit. It inverts the distribution function, a regularised
// incomplete beta function, by bisection to 1e-12; infinite for 0 degrees of freedom.
func Student(degrees float64) float64 {
	if !(degrees > 0) {
		return math.Inf(1)
	}
	low, high := 0.0, 1e6
	for range 200 {
		t := (low + high) / 2
		if t == low || t == high {
			break
		}
		// both tails beyond t
		if incompleteBeta(degrees/2, 0.5, degrees/(degrees+t*t)) > 1-Level {
			low = t
		} else {
			high = t
		}
	}
	return (low + high) / 2
}

// incompleteBeta returns I_x(a, b) from its continued fraction, NIST Digital Library of
// Mathematical Functions, 8.17.22, by Lentz's method.
func incompleteBeta(a, b, x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	case x > (a+1)/(a+b+2):
		return 1 - incompleteBeta(b, a, 1-x)
	}
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	front := math.Exp(lab-la-lb+a*math.Log(x)+b*math.Log1p(-x)) / a

	const tiny = 1e-300 // far below any term, and not 0
	f, c, d := 1.0, 1.0, 0.0
	for i := range 1000 {
		m := float64(i / 2)
		term := 1.0
		switch {
		case i == 0:
		case i%2 == 0:
			term = m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		default:
			term = -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		}
		d = 1 / notZero(1+term*d, tiny)
		c = notZero(1+term/c, tiny)
		f *= c * d
		if i > 0 && math.Abs(1-c*d) < 1e-15 {
			break
		}
	}
	return front * (f - 1)
}

func notZero(v, tiny float64) float64 {
	if math.Abs(v) < tiny {
		return tiny
	}
	return v
}

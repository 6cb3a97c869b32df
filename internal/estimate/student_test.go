package estimate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The printed table of Student's t for 0.05, both tails together: R. A. Fisher and F. Yates,
// Statistical Tables for Biological, Agricultural and Medical Research, table III.
func TestStudentAgainstPrint(t *testing.T) {
	for degrees, want := range map[float64]float64{
		1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 5: 2.571, 6: 2.447, 8: 2.306, 9: 2.262, 12: 2.179, 15: 2.131, 20: 2.086, 24: 2.064, 30: 2.042,
		40: 2.021, 60: 2.000, 120: 1.980, 1e9: 1.960,
	} {
		near(t, "t", Student(degrees), want, 5e-4)
	}
}

// For one, two and four degrees of freedom the quantile has a closed form (W. T. Shaw, Journal of
// Computational Finance 9 (2006), 37-73): the tangent of 0.475 pi; 2 x 0.475 x root of 2/a with a =
// 4 x 0.975 x 0.025; and for four, with q = 4 cos(arccos(root of a)/3)/root of a, root of q-4.
func TestStudentByClosedForms(t *testing.T) {
	const a = 4 * 0.975 * 0.025
	q := 4 * math.Cos(math.Acos(math.Sqrt(a))/3) / math.Sqrt(a)
	for degrees, want := range map[float64]float64{1: math.Tan(0.475 * math.Pi), 2: 2 * 0.475 * math.Sqrt(2/a), 4: math.Sqrt(q - 4)} {
		near(t, "t", Student(degrees), want, 1e-10*want)
	}
	for _, none := range []float64{0, -1, math.NaN()} {
		if !math.IsInf(Student(none), 1) {
			t.Errorf("%g degrees of freedom: %g", none, Student(none))
		}
	}
	// below one degree of freedom it grows fast and stays finite
	if half := Student(0.5); !(half > Student(1) && half < 1e6) {
		t.Errorf("half a degree: %g", half)
	}
}

// Whole a and b are a sum of binomial terms: I_x(a, b) is the chance of at least a in a+b-1 trials
// (NIST Digital Library of Mathematical Functions, 8.17.5).
func TestIncompleteBetaIsABinomialTail(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(1, 12).Draw(t, "a"), rapid.IntRange(1, 12).Draw(t, "b")
		x := rapid.Float64Range(0.001, 0.999).Draw(t, "x")
		n, want, choose := a+b-1, 0.0, 1.0
		for k := range n + 1 {
			if k >= a {
				want += choose * math.Pow(x, float64(k)) * math.Pow(1-x, float64(n-k))
			}
			choose *= float64(n-k) / float64(k+1)
		}
		if got := incompleteBeta(float64(a), float64(b), x); math.Abs(got-want) > 1e-12 {
			t.Errorf("I_%g(%d, %d) = %g, want %g", x, a, b, got, want)
		}
	})
}

// By hand: halves are the arcsine law, 2/pi arcsin(root of x), and a of one leaves 1-(1-x)^b. Both
// where the fraction is turned round and where it is not.
func TestIncompleteBetaByClosedForms(t *testing.T) {
	for _, x := range []float64{1e-12, 0.01, 0.3, 0.5, 0.51, 0.7, 0.99, 1 - 1e-12} {
		near(t, "halves", incompleteBeta(0.5, 0.5, x), 2/math.Pi*math.Atan2(math.Sqrt(x), math.Sqrt(1-x)), 1e-12)
		near(t, "a of one", incompleteBeta(1, 3.5, x), -math.Expm1(3.5*math.Log1p(-x)), 1e-12)
		near(t, "b of one", incompleteBeta(2.5, 1, x), math.Pow(x, 2.5), 1e-12)
		near(t, "large and small", incompleteBeta(500, 0.5, x)+incompleteBeta(0.5, 500, 1-x), 1, 1e-12)
	}
	for x, want := range map[float64]float64{-1: 0, 0: 0, 1: 1, 2: 1} {
		near(t, "outside", incompleteBeta(2, 3, x), want, 0)
	}
	if got := notZero(1e-301, 1e-300); got != 1e-300 {
		t.Errorf("%g is not kept from 0", got)
	}
	if got := notZero(-2e-300, 1e-300); got != -2e-300 {
		t.Errorf("%g in place of what is far enough from 0", got)
	}
}

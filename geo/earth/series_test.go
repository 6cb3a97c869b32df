package earth

import (
	"math"
	"testing"
)

// The coefficients of every series of this package, derived again from the integrals and equations
// that define them. The derivation uses the algebra of trigonometric polynomials whose coefficients
// are power series of a small quantity. An error of a tenth in the highest term is below rounding
// at the earth's flattening, so no test of positions would find it; this one does.

// small is a power series of the small quantity, truncated after the sixth power.
type small [7]complex128

// times returns the product of two series.
func (a small) times(b small) (c small) {
	for i, x := range a {
		for j := 0; i+j < len(c); j++ {
			c[i+j] += x * b[j]
		}
	}
	return c
}

// first returns v times the small quantity; fixed returns a constant.
func first(v float64) small { return small{1: complex(v, 0)} }
func fixed(v float64) small { return small{complex(v, 0)} }

// over returns 1/a; the first coefficient of a must not be 0.
func (a small) over() (c small) {
	c[0] = 1 / a[0]
	for k := 1; k < len(c); k++ {
		for i := 1; i <= k; i++ {
			c[k] -= a[i] * c[k-i] / a[0]
		}
	}
	return c
}

// upTo returns the sum of the coefficients up to a power. That is the polynomial's value if the
// coefficients already contain the small quantities.
func (a small) upTo(order int) (sum complex128) {
	for _, v := range a[:order+1] {
		sum += v
	}
	return sum
}

// waves is a function of an angle x: the sum of w[k] e^(ikx).
type waves map[int]small

func level(s small) waves { return waves{0: s} }

var (
	sine   = waves{1: {-0.5i}, -1: {0.5i}}
	cosine = waves{1: {0.5}, -1: {0.5}}
)

// plus returns a + factor b.
func (a waves) plus(b waves, factor complex128) waves {
	c := waves{}
	for k, v := range a {
		c[k] = v
	}
	for k, v := range b {
		s := c[k]
		for i := range s {
			s[i] += factor * v[i]
		}
		c[k] = s
	}
	return c
}

func (a waves) times(b waves) waves {
	c := waves{}
	for k, v := range a {
		for l, w := range b {
			p := v.times(w)
			if p == (small{}) {
				continue // beyond the sixth power
			}
			s := c[k+l]
			for i := range s {
				s[i] += p[i]
			}
			c[k+l] = s
		}
	}
	return c
}

// slope returns the derivative with respect to the angle.
func (a waves) slope() waves {
	c := waves{}
	for k, v := range a {
		c[k] = v.times(small{complex(0, float64(k))})
	}
	return c
}

// raised returns (1+a)^p for small a, by the binomial series.
func (a waves) raised(p float64) waves {
	sum, power, binomial := level(fixed(1)), level(fixed(1)), 1.0
	for m := 1; m < len(small{}); m++ {
		power, binomial = power.times(a), binomial*(p-float64(m-1))/float64(m)
		sum = sum.plus(power, complex(binomial, 0))
	}
	return sum
}

// at returns a(x + h(x)) for small h, by Taylor's series.
func (a waves) at(h waves) waves {
	sum, power := a, level(fixed(1))
	for m := 1; m < len(small{}); m++ {
		a, power = a.slope(), power.times(h).times(level(fixed(1/float64(m))))
		sum = sum.plus(a.times(power), 1)
	}
	return sum
}

// undone returns the inverse of x + a(x): the h with y + h(y) = x for y = x + a(x).
func (a waves) undone() waves {
	h := waves{}
	for range len(small{}) { // each round is right to one more power
		h = waves{}.plus(a.at(h), -1)
	}
	return h
}

// overCosine returns a / cos x, where a must be divisible by cos x.
func (a waves) overCosine() waves {
	top := 0
	for k := range a {
		top = max(top, k)
	}
	rest, c := waves{}.plus(a, 1), waves{}
	for k := top; k > -top; k-- {
		v := rest[k].times(fixed(2))
		c[k-1] = v
		rest = rest.plus(waves{k: v, k - 2: v}, -0.5)
	}
	return c
}

// radius returns |1 + s e^(2ix)|^(2p), the integrand of lengths on an ellipse.
func radius(s small, p float64) waves {
	return waves{2: s}.raised(p).times(waves{-2: s}.raised(p))
}

// Karney 2013, equations 7, 15 to 18: the distance is the integral of
// sqrt(1 + k^2 sin^2) = |1 - eps e^(2ix)| / (1 - eps), which is A1 (x + sum of C1[l] sin 2lx).
// Equations 41 to 43 likewise with 1/sqrt(1 + k^2 sin^2).
func TestSeriesOfDistance(t *testing.T) {
	for _, eps := range []float64{0.5, -0.3} {
		for _, c := range []struct {
			name string
			p    float64
			a    float64 // A without the factor in closed form
			c    [7]float64
		}{
			{"1", 0.5, (1 + seriesA1(eps)) * (1 - eps), seriesC1(eps)},
			{"2", -0.5, (1 + seriesA2(eps)) / (1 - eps), seriesC2(eps)},
		} {
			w := radius(first(-eps), c.p)
			near(t, "A"+c.name, c.a, real(w[0].upTo(6)), 1e-14)
			for l := 1; l <= 6; l++ {
				want := w[2*l].times(w[0].over()).upTo(6)
				near(t, "C"+c.name, c.c[l], real(want)/float64(l), 1e-15)
			}
		}
	}
}

// Karney 2013, equations 20 and 21: C1' is the inverse of C1.
func TestSeriesFromDistanceToArc(t *testing.T) {
	const eps = 0.4
	w, c1 := radius(first(-eps), 0.5), waves{}
	for l := 1; l <= 6; l++ {
		c := w[2*l].times(w[0].over()).times(small{complex(0, -0.5/float64(l))}) // the coefficient of a sine
		c1[2*l], c1[-2*l] = c, c.times(fixed(-1))
	}
	back, got := c1.undone(), seriesC1p(eps)
	for l := 1; l <= 6; l++ {
		near(t, "C1'", got[l], real(back[2*l].upTo(6)*2i), 1e-14)
	}
}

// Karney 2013, equations 8 and 23 to 25: the longitude is the integral of (2-f) / (1 + (1-f) sqrt(1
// + k^2 sin^2)), with 2-f = 2/(1+n) and 1-f = (1-n)/(1+n). The series goes to the fifth power of n
// and eps together.
func TestSeriesOfLongitude(t *testing.T) {
	const n, eps = 0.3, 0.45
	below := level(small{1, complex(n, 0)}.times(small{1, -eps})).plus(radius(first(-eps), 0.5).times(level(small{1, -n})), 1)
	below = below.times(level(fixed(0.5))).plus(level(fixed(1)), -1)
	w := below.raised(-1).times(level(small{1, -eps}))

	a3, c3 := seriesA3(n), seriesC3(n)
	near(t, "A3", power(eps, &a3), real(w[0].upTo(5)), 1e-14)
	for l := 1; l <= 5; l++ {
		want := real(w[2*l].times(w[0].over()).upTo(5)) / float64(l)
		near(t, "C3", power(eps, &c3[l]), want, 1e-15)
	}
	g := newGeodesic(Ellipsoid{A: 1, F: 2 * n / (1 + n)})
	for l, v := range g.c3At(eps) {
		if l > 0 && l < 6 {
			near(t, "C3 at eps", v, power(eps, &c3[l]), 1e-15)
		}
	}
}

// Karney 2013, equations 59 to 63: the area is the integral of
// (t(e'^2) - t(k^2 sin^2)) / (e'^2 - k^2 sin^2) sin/2, with
// t(x) = x + sqrt(1/x + 1) asinh(sqrt x), as a sum of cosines of odd multiples.
func TestSeriesOfArea(t *testing.T) {
	const n, eps = 0.35, 0.4
	// sqrt(1+x) and asinh(sqrt x)/sqrt x as powers of x
	root, arc := [7]float64{1}, [7]float64{1}
	central := 1.0 // (2k)! / (4^k k!^2)
	for k := 1; k < 7; k++ {
		root[k] = root[k-1] * (1.5 - float64(k)) / float64(k)
		central *= -float64(2*k-1) / float64(2*k)
		arc[k] = central / float64(2*k+1)
	}
	var series [7]float64
	series[1] = 1
	for i := range root {
		for j := 0; i+j < 7; j++ {
			series[i+j] += root[i] * arc[j]
		}
	}
	squared := func(v float64) small { // 4v / (1-v)^2
		once := small{1, complex(-v, 0)}
		return first(4 * v).times(once.times(once).over())
	}
	whole, part := level(squared(n)), level(squared(eps)).times(sine).times(sine)
	sum := waves{}
	powers := level(fixed(1)) // the sum of whole^i part^j, i + j = m - 1
	ofPart := level(fixed(1))
	for m := 1; m < 7; m++ {
		sum = sum.plus(powers, complex(series[m], 0))
		ofPart = ofPart.times(part)
		powers = powers.times(whole).plus(ofPart, 1)
	}
	sum = sum.times(sine).times(level(fixed(0.5)))

	c4 := seriesC4(n)
	at := newGeodesic(Ellipsoid{A: 1, F: 2 * n / (1 + n)}).c4At(eps)
	for l := range 6 {
		want := real(sum[2*l+1].upTo(5)*2i) / float64(2*l+1) // the coefficient of sin (2l+1)x, integrated
		near(t, "C4", power(eps, &c4[l]), want, 1e-14)
		near(t, "C4 at eps", at[l], want, 1e-14)
	}
}

// eccentric returns e^2 = 4n/(1+n)^2.
func eccentric(n float64) small {
	once := small{1, complex(n, 0)}
	return first(4 * n).times(once.times(once).over())
}

// rectifying returns what must be added to the geodetic latitude to get the rectifying latitude,
// which is proportional to the distance along the meridian: the integral of |1 + n e^(2ix)|^(-3)
// (Snyder 1987, equation 3-20, in n).
func rectifying(n float64) waves {
	w, g := radius(first(n), -1.5), waves{}
	for k := 1; k <= 6; k++ {
		c := w[2*k].times(w[0].over()).times(small{complex(0, -0.5/float64(k))})
		g[2*k], g[-2*k] = c, c.times(fixed(-1))
	}
	return g
}

// conformalShift returns what must be added to the geodetic latitude to get the conformal latitude.
// Its isometric latitude is that of the sphere less u = e atanh(e sin) (Snyder 1987, equation 3-7),
// and the derivative of latitude by isometric latitude is the cosine of latitude.
func conformalShift(n float64) waves {
	e2, u, power := eccentric(n), waves{}, level(eccentric(n)).times(sine)
	for k := range 6 {
		u = u.plus(power, complex(-1/float64(2*k+1), 0))
		power = power.times(level(e2)).times(sine).times(sine)
	}
	sum, d, um := waves{}, cosine, level(fixed(1))
	for m := 1; m < 7; m++ {
		um = um.times(u).times(level(fixed(1 / float64(m))))
		sum = sum.plus(um.times(d), 1)
		d = d.slope().times(cosine)
	}
	return sum
}

// Karney 2011, equations 14, 35 and 36: conformal to rectifying latitude and back.
func TestSeriesOfKrueger(t *testing.T) {
	for _, n := range []float64{0.3, 0.05} {
		k := newKrueger(Ellipsoid{A: 2, F: 2 * n / (1 + n)})
		near(t, "radius", k.radius*(1+n)/2, real(radius(first(n), 0.5)[0].upTo(6)), 1e-15)

		back := conformalShift(n).undone() // geodetic from conformal
		to := back.plus(rectifying(n).at(back), 1)
		from := to.undone()
		for i := range 6 {
			near(t, "alpha", k.alpha[i], real(to[2*i+2].upTo(6)*2i), 1e-14)
			near(t, "beta", k.beta[i], real(from[2*i+2].upTo(6)*2i), 1e-14)
		}
	}
}

// Snyder 1987, equation 3-12: the sine of authalic latitude is q divided by its value at the pole,
// where q is the sum of (2k+2)/(2k+1) e^(2k) sin^(2k+1).
func TestSeriesOfAuthalicLatitude(t *testing.T) {
	const n = 0.3
	q, pole := waves{}, small{}
	power, e := sine, fixed(1)
	for k := range 7 {
		factor := complex(float64(2*k+2)/float64(2*k+1), 0)
		q = q.plus(power.times(level(e)), factor)
		for i := range pole {
			pole[i] += factor * e[i]
		}
		power, e = power.times(sine).times(sine), e.times(eccentric(n))
	}
	want := q.times(level(pole.over()))
	d := waves{} // sin(x + d) = want
	for range 7 {
		d = d.plus(want.plus(sine.at(d), -1).overCosine(), 1)
	}
	back, got := d.undone(), authalicInverse(n)
	for i := range got {
		near(t, "authalic to geodetic", got[i], real(back[2*i+2].upTo(6)*2i), 1e-13)
	}
}

// Sums of sines and cosines by Clenshaw's recurrence, compared with the sums term by term.
func TestClenshawSums(t *testing.T) {
	c7 := [7]float64{99, 0.3, -0.2, 0.15, 0.11, -0.07, 0.05} // the first is not used
	c6 := [6]float64{0.4, 0.3, -0.2, 0.15, 0.11, -0.07}
	for x := -3.0; x <= 3; x += 0.37 {
		sin, cos := math.Sincos(x)
		var s, c, s6 float64
		for l := 1; l <= 6; l++ {
			s += c7[l] * math.Sin(2*float64(l)*x)
			s6 += c6[l-1] * math.Sin(float64(l)*x)
		}
		for l := range 6 {
			c += c6[l] * math.Cos(float64(2*l+1)*x)
		}
		near(t, "sines", sines(sin, cos, &c7), s, 1e-14)
		near(t, "cosines", cosines(sin, cos, &c6), c, 1e-14)
		near(t, "sines of authalic", sineSum(sin, cos, &c6), s6, 1e-14)
		// for a complex angle: compared with the complex sine of the standard library
		y := x / 3
		re, im := complexSines(x, y, math.Sin(2*x), math.Cos(2*x), math.Sinh(2*y), math.Cosh(2*y), &c6)
		zx, zy := x, y
		for l := range 6 {
			k := 2 * float64(l+1)
			zx += c6[l] * math.Sin(k*x) * math.Cosh(k*y)
			zy += c6[l] * math.Cos(k*x) * math.Sinh(k*y)
		}
		near(t, "complex sines, real", re, zx, 1e-10)
		near(t, "complex sines, imaginary", im, zy, 1e-10)
		near(t, "power", power(x, &c6), c6[0]+x*c6[1]+x*x*c6[2]+math.Pow(x, 3)*c6[3]+math.Pow(x, 4)*c6[4]+math.Pow(x, 5)*c6[5], 1e-12)
	}
}

// Karney 2013, equation 16: k = 2 sqrt(eps) / (1 - eps).
func TestEpsilonOf(t *testing.T) {
	for _, eps := range []float64{0, 1e-12, 0.001, 0.2} {
		near(t, "eps", epsilonOf(4*eps/((1-eps)*(1-eps))), eps, 1e-16)
	}
}

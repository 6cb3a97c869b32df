package earth

import "math"

// authalicTerms is the number of terms kept in the authalic series: the next is
// below 1e-16 for any ellipsoid of the earth. Our choice: full double precision.
const authalicTerms = 8

// authalic turns geodetic into authalic latitude, that of equal area on a
// sphere, and back. With s, c the sine and cosine of geodetic latitude, the sine
// of the authalic one is s*P(s^2) and its cosine c*H(s^2): no logarithm and no
// loss of digits near the poles.
type authalic struct {
	radius float64                // of the sphere of equal area, metres
	sine   [authalicTerms]float64 // P
	cosine [authalicTerms]float64 // H
	back   [6]float64             // sines of 2, 4 ... 12 times authalic latitude
}

// newAuthalic expands Snyder 1987, equation 3-12,
// q = (1-e2)[s/(1-e2 s^2) + atanh(e s)/e] = (1-e2) s sum (2k+2)/(2k+1) (e s)^(2k),
// and divides it by its value at the pole.
func newAuthalic(e Ellipsoid) authalic {
	var t authalic
	e2, power, pole := e.E2(), 1.0, 0.0
	for k := range t.sine {
		t.sine[k] = power * float64(2*k+2) / float64(2*k+1)
		pole += t.sine[k]
		power *= e2
	}
	for k := range t.sine {
		t.sine[k] /= pole
	}
	t.radius = e.A * math.Sqrt((1-e2)*pole/2)
	t.cosine = cosineSeries(t.sine)
	t.back = authalicInverse(e.N())
	return t
}

// cosineSeries returns H with H^2 = (1 - x P(x)^2)/(1 - x). The division is exact
// because P(1) is 1: coefficients of the quotient are running sums.
func cosineSeries(p [authalicTerms]float64) (h [authalicTerms]float64) {
	var square, quotient [authalicTerms]float64
	for i := range p {
		for j := 0; i+j < authalicTerms; j++ {
			square[i+j] += p[i] * p[j]
		}
	}
	sum := 1.0
	for k := range quotient {
		quotient[k] = sum
		sum -= square[k]
	}
	// square root of a power series, term by term
	h[0] = math.Sqrt(quotient[0])
	for k := 1; k < authalicTerms; k++ {
		rest := quotient[k]
		for i := 1; i < k; i++ {
			rest -= h[i] * h[k-i]
		}
		h[k] = rest / (2 * h[0])
	}
	return h
}

// sinBeta returns the sine of the authalic latitude from that of the geodetic one.
func (t *authalic) sinBeta(sin float64) float64 {
	x := sin * sin
	p := &t.sine
	x2 := x * x
	// grouped so that the processor can work side by side
	return sin * ((p[0] + x*p[1]) + x2*(p[2]+x*p[3]) + x2*x2*((p[4]+x*p[5])+x2*(p[6]+x*p[7])))
}

// sincos returns sine and cosine of the authalic latitude from those of the
// geodetic one.
func (t *authalic) sincos(sin, cos float64) (sinBeta, cosBeta float64) {
	x := sin * sin
	h := &t.cosine
	hs := h[0] + x*(h[1]+x*(h[2]+x*(h[3]+x*(h[4]+x*(h[5]+x*(h[6]+x*h[7]))))))
	return t.sinBeta(sin), cos * hs
}

// latitude returns geodetic latitude in radians from sine and cosine of the
// authalic one (their common length need not be 1).
func (t *authalic) latitude(sin, cos float64) float64 {
	beta := math.Atan2(sin, cos)
	h := 1 / (sin*sin + cos*cos)
	sin2, cos2 := 2*sin*cos*h, (cos*cos-sin*sin)*h
	return beta + sineSum(sin2, cos2, &t.back)
}

// authalicInverse returns the coefficients that turn authalic into geodetic
// latitude, to order n^6: the next term is below 1e-12 m. Karney, On auxiliary
// latitudes (Survey Review 2024), appendix A, phi from xi.
func authalicInverse(n float64) (c [6]float64) {
	c[0] = n * (4./3 + n*(4./45+n*(-16./35+n*(-2582./14175+n*(60136./467775+n*28112932./212837625)))))
	c[1] = n * n * (46./45 + n*(152./945+n*(-11966./14175+n*(-21016./51975+n*251310128./638512875))))
	c[2] = n * n * n * (3044./2835 + n*(3802./14175+n*(-94388./66825-n*8797648./10945935)))
	c[3] = n * n * n * n * (6059./4725 + n*(41072./93555-n*1472637812./638512875))
	c[4] = n * n * n * n * n * (768272./467775 + n*455935736./638512875)
	c[5] = n * n * n * n * n * n * 4210684958. / 1915538625
	return c
}

// sineSum returns the sum of c[k] sin((k+1) z) from sin z and cos z, by
// Clenshaw's recurrence.
func sineSum(sin, cos float64, c *[6]float64) float64 {
	twice := 2 * cos
	b5 := c[5]
	b4 := c[4] + twice*b5
	b3 := c[3] + twice*b4 - b5
	b2 := c[2] + twice*b3 - b4
	b1 := c[1] + twice*b2 - b3
	b0 := c[0] + twice*b1 - b2
	return sin * b0
}

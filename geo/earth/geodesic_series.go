package earth

import "math"

// seriesOrder is the order in the small quantity eps to which the geodesic
// series are carried: truncation is below 1e-8 m for the earth (Karney 2013,
// section 8).
const seriesOrder = 6

// geodesic holds what depends on the ellipsoid alone. The names are those of
// Karney, Algorithms for geodesics, Journal of Geodesy 87:43-55 (2013), DOI
// 10.1007/s00190-012-0578-z; "the paper" below.
type geodesic struct {
	a, f, f1, e2, ep2, n, b float64
	c2                      float64       // authalic radius squared
	etol2                   float64       // angle below which a line counts as short
	a3                      [6]float64    // by power of eps
	c3                      [6][6]float64 // [l] by power of eps, l from 1
	c4                      [6][6]float64 // [l] by power of eps, l from 0
}

var wgs84Geodesic = newGeodesic(WGS84)

// solver returns the precomputed constants of e.
func (e Ellipsoid) solver() *geodesic {
	if e == WGS84 {
		return wgs84Geodesic
	}
	return newGeodesic(e)
}

func newGeodesic(e Ellipsoid) *geodesic {
	g := &geodesic{a: e.A, f: e.F, f1: 1 - e.F, e2: e.E2(), n: e.N(), b: e.B()}
	g.ep2 = g.e2 / (g.f1 * g.f1)
	// authalic radius squared: the paper, equation 60
	polar := 1.0
	if g.e2 > 0 {
		polar = math.Atanh(math.Sqrt(g.e2)) / math.Sqrt(g.e2)
	}
	g.c2 = (g.a*g.a + g.b*g.b*polar) / 2
	// the spherical solution of a shorter line is good to double precision:
	// error f sig12^2/8 (the paper, section 3); 0.1 is Karney's safety factor
	g.etol2 = 0.1 * rootEpsilon / math.Sqrt(max(0.001, g.f)*(1-g.f/2)/2)
	g.a3 = seriesA3(g.n)
	g.c3 = seriesC3(g.n)
	g.c4 = seriesC4(g.n)
	return g
}

// epsilon of double precision, and its square root.
const epsilon = 1.0 / (1 << 52)

var rootEpsilon = math.Sqrt(epsilon)

// seriesA1 returns A1 - 1: the paper, equation 17.
func seriesA1(eps float64) float64 {
	x := eps * eps
	t := x * (1./4 + x*(1./64+x/256))
	return (t + eps) / (1 - eps)
}

// seriesC1 returns C1[1..6]: the paper, equation 18.
func seriesC1(eps float64) (c [7]float64) {
	x, d := eps*eps, eps
	c[1] = d * (-1./2 + x*(3./16-x/32))
	d *= eps
	c[2] = d * (-1./16 + x*(1./32-x*9/2048))
	d *= eps
	c[3] = d * (-1./48 + x*3/256)
	d *= eps
	c[4] = d * (-5./512 + x*3/512)
	d *= eps
	c[5] = d * -7 / 1280
	d *= eps
	c[6] = d * -7 / 2048
	return c
}

// seriesC1p returns C1'[1..6]: the paper, equation 21.
func seriesC1p(eps float64) (c [7]float64) {
	x, d := eps*eps, eps
	c[1] = d * (1./2 + x*(-9./32+x*205/1536))
	d *= eps
	c[2] = d * (5./16 + x*(-37./96+x*1335/4096))
	d *= eps
	c[3] = d * (29./96 - x*75/128)
	d *= eps
	c[4] = d * (539./1536 - x*2391/2560)
	d *= eps
	c[5] = d * 3467 / 7680
	d *= eps
	c[6] = d * 38081 / 61440
	return c
}

// seriesA2 returns A2 - 1: the paper, equation 42.
func seriesA2(eps float64) float64 {
	x := eps * eps
	t := x * (1./4 + x*(9./64+x*25/256))
	return t*(1-eps) - eps
}

// seriesC2 returns C2[1..6]: the paper, equation 43.
func seriesC2(eps float64) (c [7]float64) {
	x, d := eps*eps, eps
	c[1] = d * (1./2 + x*(1./16+x/32))
	d *= eps
	c[2] = d * (3./16 + x*(1./32+x*35/2048))
	d *= eps
	c[3] = d * (5./48 + x*5/256)
	d *= eps
	c[4] = d * (35./512 + x*7/512)
	d *= eps
	c[5] = d * 63 / 1280
	d *= eps
	c[6] = d * 77 / 2048
	return c
}

// seriesA3 returns A3 by power of eps: the paper, equation 24.
func seriesA3(n float64) [6]float64 {
	return [6]float64{
		1,
		-(1./2 - n/2),
		-(1./4 + n*(1./8-n*3/8)),
		-(1./16 + n*(3./16+n/16)),
		-(3./64 + n/32),
		-3. / 128,
	}
}

// seriesC3 returns C3[l] by power of eps: the paper, equation 25.
func seriesC3(n float64) (c [6][6]float64) {
	c[1] = [6]float64{
		1: 1./4 - n/4, 2: 1./8 - n*n/8, 3: 3./64 + n*(3./64-n/64), 4: 5./128 + n/64, 5: 3. / 128,
	}
	c[2] = [6]float64{2: 1./16 + n*(-3./32+n/32), 3: 3./64 + n*(-1./32-n*3/64), 4: 3./128 + n/128, 5: 5. / 256}
	c[3] = [6]float64{3: 5./192 + n*(-3./64+n*5/192), 4: 3./128 - n*5/192, 5: 7. / 512}
	c[4] = [6]float64{4: 7./512 - n*7/256, 5: 7. / 512}
	c[5] = [6]float64{5: 21. / 2560}
	return c
}

// seriesC4 returns C4[l] by power of eps: the paper, equation 63.
func seriesC4(n float64) (c [6][6]float64) {
	c[0] = [6]float64{
		2./3 + n*(-4./15+n*(8./105+n*(4./315+n*(16./3465+n*20/9009)))),
		-1./5 + n*(16./35+n*(-32./105+n*(16./385+n*64./15015))),
		-2./105 + n*(-32./315+n*(1088./3465-n*1184/5005)),
		11./315 + n*(-368./3465-n*32/6435),
		4./1155 + n*1088/45045,
		97. / 15015,
	}
	c[1] = [6]float64{
		1: 1./45 + n*(-16./315+n*(32./945+n*(-16./3465-n*64/135135))),
		2: -2./105 + n*(64./945+n*(-128./1485+n*1984/45045)),
		3: -1./105 + n*(16./2079+n*5792/135135),
		4: 4./1155 - n*2944/135135,
		5: 1. / 9009,
	}
	c[2] = [6]float64{
		2: 4./525 + n*(-32./1575+n*(64./3465-n*32/5005)),
		3: -8./1575 + n*(128./5775-n*256/6825),
		4: -8./1925 + n*1856/225225,
		5: 8. / 10725,
	}
	c[3] = [6]float64{
		3: 8./2205 + n*(-256./24255+n*512/45045),
		4: -16./8085 + n*1024/105105,
		5: -136. / 63063,
	}
	c[4] = [6]float64{4: 64./31185 - n*512/81081, 5: -128. / 135135}
	c[5] = [6]float64{5: 128. / 99099}
	return c
}

// power returns sum c[k] x^k.
func power(x float64, c *[6]float64) float64 {
	return c[0] + x*(c[1]+x*(c[2]+x*(c[3]+x*(c[4]+x*c[5]))))
}

// c3At returns C3[1..5] at eps.
func (g *geodesic) c3At(eps float64) (c [7]float64) {
	for l := 1; l < seriesOrder; l++ {
		c[l] = power(eps, &g.c3[l])
	}
	return c
}

// c4At returns C4[0..5] at eps.
func (g *geodesic) c4At(eps float64) (c [6]float64) {
	for l := range c {
		c[l] = power(eps, &g.c4[l])
	}
	return c
}

// sines returns sum of c[l] sin(2 l x), l from 1 (Clenshaw).
func sines(sin, cos float64, c *[7]float64) float64 {
	twice := 2 * (cos - sin) * (cos + sin)
	var y0, y1 float64
	for l := seriesOrder; l >= 1; l-- {
		y0, y1 = twice*y0-y1+c[l], y0
	}
	return 2 * sin * cos * y0
}

// cosines returns sum of c[l] cos((2l+1) x), l from 0 (Clenshaw).
func cosines(sin, cos float64, c *[6]float64) float64 {
	twice := 2 * (cos - sin) * (cos + sin)
	var y0, y1 float64
	for l := seriesOrder - 1; l >= 0; l-- {
		y0, y1 = twice*y0-y1+c[l], y0
	}
	return cos * (y0 - y1)
}

// epsilonOf returns the paper's eps from k^2, equation 16, without cancellation.
func epsilonOf(k2 float64) float64 {
	return k2 / (2*(1+math.Sqrt(1+k2)) + k2)
}

package earth

import "math"

// krueger holds the series of the transverse Mercator projection to order n^6:
// Karney, Transverse Mercator with an accuracy of a few nanometers, Journal of
// Geodesy 85:475-485 (2011), DOI 10.1007/s00190-011-0445-3.
type krueger struct {
	radius float64    // rectifying radius, metres: equation 14
	alpha  [6]float64 // to the plane: equation 35
	beta   [6]float64 // and back: equation 36
}

func newKrueger(e Ellipsoid) krueger {
	n := e.N()
	n2 := n * n
	n3, n4 := n2*n, n2*n2
	n5, n6 := n4*n, n4*n2
	return krueger{
		radius: e.A / (1 + n) * (1 + n2*(1./4+n2*(1./64+n2/256))),
		alpha: [6]float64{
			n * (1./2 + n*(-2./3+n*(5./16+n*(41./180+n*(-127./288+n*7891./37800))))),
			n2 * (13./48 + n*(-3./5+n*(557./1440+n*(281./630-n*1983433./1935360)))),
			n3 * (61./240 + n*(-103./140+n*(15061./26880+n*167603./181440))),
			n4 * (49561./161280 + n*(-179./168+n*6601661./7257600)),
			n5 * (34729./80640 - n*3418889./1995840),
			n6 * 212378941. / 319334400,
		},
		beta: [6]float64{
			-n * (1./2 + n*(-2./3+n*(37./96+n*(-1./360+n*(-81./512+n*96199./604800))))),
			-n2 * (1./48 + n*(1./15+n*(-437./1440+n*(46./105-n*1118711./3870720)))),
			-n3 * (17./480 + n*(-37./840+n*(-209./4480+n*5569./90720))),
			-n4 * (4397./161280 + n*(-11./504-n*830251./7257600)),
			-n5 * (4583./161280 - n*108847./3991680),
			-n6 * 20648693. / 638668800,
		},
	}
}

// complexSines returns z plus the sum of c[k] sin(2(k+1) z), z = xi + i eta, from
// sine and cosine of 2 xi and hyperbolic sine and cosine of 2 eta (Clenshaw).
func complexSines(xi, eta, sin2, cos2, sinh2, cosh2 float64, c *[6]float64) (x, y float64) {
	z := complex(2*cos2*cosh2, -2*sin2*sinh2) // 2 cos 2z
	var b0, b1 complex128
	for k := len(c) - 1; k >= 0; k-- {
		b0, b1 = z*b0-b1+complex(c[k], 0), b0
	}
	sum := complex(sin2*cosh2, cos2*sinh2) * b0
	return xi + real(sum), eta + imag(sum)
}

// along returns the distance from the equator along a meridian, metres, from the sine and cosine of
// latitude and the eccentricity.
func (k *krueger) along(sin, cos, e float64) float64 {
	if cos == 0 {
		return math.Copysign(k.radius*math.Pi/2, sin)
	}
	chi := math.Atan(conformalTangent(sin/cos, e))
	sin2, cos2 := math.Sincos(2 * chi)
	mu, _ := complexSines(chi, 0, sin2, cos2, 0, 1, &k.alpha)
	return k.radius * mu
}

// meridian is along for a latitude in degrees.
func (k *krueger) meridian(e Ellipsoid, lat float64) float64 {
	sin, cos := sincosDegrees(lat)
	return k.along(sin, cos, e.Eccentricity())
}

package earth

import "math"

// conformalTangent returns the tangent of the conformal latitude from that of
// the geodetic one, on an ellipsoid of eccentricity e: Karney 2011, equations 7
// to 9. Full precision to the poles.
func conformalTangent(tau, e float64) float64 {
	root := math.Sqrt(1 + tau*tau)
	sigma := math.Sinh(e * math.Atanh(e*tau/root))
	return tau*math.Sqrt(1+sigma*sigma) - sigma*root
}

// geodeticTangent is the inverse of conformalTangent by Newton's method: Karney 2011, equations 19
// to
// 21. Two steps reach rounding for the earth; five are allowed.
func geodeticTangent(tauC, e float64) float64 {
	e2m := 1 - e*e
	tau := tauC / e2m
	if math.Abs(tau) > 1e9 {
		// within a centimetre of a pole: conformal and geodetic tangents differ by
		// the constant factor exp(e atanh e)
		return tauC * math.Exp(e*math.Atanh(e))
	}
	for range 5 {
		t := conformalTangent(tau, e)
		step := (tauC - t) / math.Sqrt(1+t*t) * (1 + e2m*tau*tau) / (e2m * math.Sqrt(1+tau*tau))
		tau += step
		// the error after a step is its square
		if math.Abs(step) <= 1e-9*max(1, math.Abs(tau)) {
			break
		}
	}
	return tau
}

// isometric returns the isometric latitude of a geodetic latitude with sine sin
// and cosine cos: Snyder 1987, equation 3-7. Infinite at a pole.
func isometric(sin, cos, e float64) float64 {
	return math.Asinh(sin/cos) - e*math.Atanh(e*sin)
}

// fromIsometric returns geodetic latitude in radians.
func fromIsometric(psi, e float64) float64 {
	if math.Abs(psi) > 40 {
		// beyond any position a double can tell from the pole
		return math.Copysign(math.Pi/2, psi)
	}
	return math.Atan(geodeticTangent(math.Sinh(psi), e))
}

package earth

import "math"

// areaUnder returns the area, in square metres, of the quadrilateral between the
// solved line and the equator: the paper, equations 58 to 65.
func (ip *inverseProblem) areaUnder() float64 {
	salp0 := ip.salp1 * ip.cbet1
	calp0 := math.Hypot(ip.calp1, ip.salp1*ip.sbet1)
	area := 0.0
	if calp0 != 0 { // along a meridian the factor salp0 is 0
		ssig1, csig1 := unit(ip.sbet1, ip.calp1*ip.cbet1)
		ssig2, csig2 := unit(ip.sbet2, ip.calp2*ip.cbet2)
		c4 := ip.c4At(epsilonOf(calp0 * calp0 * ip.ep2))
		a4 := ip.a * ip.a * calp0 * salp0 * ip.e2
		area = a4 * (cosines(ssig2, csig2, &c4) - cosines(ssig1, csig1, &c4))
	}
	return area + ip.c2*ip.turning(salp0)
}

// turning returns alp2 - alp1 in radians, by the spherical excess where that
// keeps more digits: the paper, equation 65.
func (ip *inverseProblem) turning(salp0 float64) float64 {
	// bounds of use of the half-angle form, from the reference implementation of
	// the paper: longitudes within 135 degrees, latitudes not poles apart
	if !ip.meridian && ip.comg12 > -0.7071 && ip.sbet2-ip.sbet1 < 1.75 {
		domg12, dbet1, dbet2 := 1+ip.comg12, 1+ip.cbet1, 1+ip.cbet2
		return 2 * math.Atan2(
			ip.somg12*(ip.sbet1*dbet2+ip.sbet2*dbet1),
			domg12*(ip.sbet1*ip.sbet2+dbet1*dbet2))
	}
	salp12 := ip.salp2*ip.calp1 - ip.calp2*ip.salp1
	calp12 := ip.calp2*ip.calp1 + ip.salp2*ip.salp1
	// a line over a pole turns by 180, not -180 or 0 by rounding
	if salp12 == 0 && calp12 < 0 {
		salp12, calp12 = tiny*ip.calp1, -1
	}
	return math.Atan2(salp12, calp12)
}

package earth

import "math"

const (
	// newtonSteps is how many Newton steps are tried before bisection starts, and
	// allSteps how many in all; four or fewer are the rule (the paper, section 4;
	// the caps are those of its reference implementation).
	newtonSteps = 20
	allSteps    = newtonSteps + 53 + 10
)

// general solves a line that is neither on a meridian nor on the equator.
func (ip *inverseProblem) general() {
	sig12, dnm := ip.start()
	if sig12 >= 0 {
		// short line: spherical, with the mean radius dnm b
		ip.s12 = sig12 * ip.b * dnm
		ip.somg12, ip.comg12 = math.Sincos(ip.lam12 / (ip.f1 * dnm))
		return
	}
	a, eps, domg12 := ip.newton()
	ip.s12 = ip.distance(eps, a) * ip.b
	s, c := math.Sincos(domg12)
	ip.somg12 = ip.slam12*c - ip.clam12*s
	ip.comg12 = ip.clam12*c + ip.slam12*s
}

// newton finds the azimuth at point 1 whose geodesic meets the latitude of point
// 2 at the right longitude: the paper, section 4, with a bracket that takes over
// when a Newton step leaves it.
func (ip *inverseProblem) newton() (a arc, eps, domg12 float64) {
	salpLow, calpLow, salpHigh, calpHigh := tiny, 1.0, tiny, -1.0
	near, bracketed := false, false
	for step := 0; step < allSteps; step++ {
		var v, dv float64
		a, eps, domg12, v, dv = ip.longitudeError(step < newtonSteps)
		tolerance := epsilon
		if near {
			tolerance = 8 * epsilon
		}
		if bracketed || !(math.Abs(v) >= tolerance) {
			break
		}
		if v > 0 && (step > newtonSteps || ip.calp1/ip.salp1 > calpHigh/salpHigh) {
			salpHigh, calpHigh = ip.salp1, ip.calp1
		} else if v < 0 && (step > newtonSteps || ip.calp1/ip.salp1 < calpLow/salpLow) {
			salpLow, calpLow = ip.salp1, ip.calp1
		}
		if step < newtonSteps && dv > 0 {
			dalp := -v / dv
			s, c := math.Sincos(dalp)
			if salp := ip.salp1*c + ip.calp1*s; salp > 0 && math.Abs(dalp) < math.Pi {
				ip.salp1, ip.calp1 = unit(salp, ip.calp1*c-ip.salp1*s)
				near = math.Abs(v) <= 16*epsilon
				continue
			}
		}
		ip.salp1, ip.calp1 = unit((salpLow+salpHigh)/2, (calpLow+calpHigh)/2)
		near = false
		bracketed = math.Abs(salpLow-ip.salp1)+(calpLow-ip.calp1) < epsilon*200 ||
			math.Abs(ip.salp1-salpHigh)+(ip.calp1-calpHigh) < epsilon*200
	}
	return a, eps, domg12
}

// longitudeError shoots the geodesic with the azimuth salp1, calp1 and returns
// how far past the wanted longitude it meets the latitude of point 2, in
// radians, and the derivative of that by the azimuth: the paper, equations 5, 8,
// 11, 12, 45 and 46. It sets the azimuth at point 2.
func (ip *inverseProblem) longitudeError(derivative bool) (a arc, eps, domg12, v, dv float64) {
	if ip.sbet1 == 0 && ip.calp1 == 0 {
		ip.calp1 = -tiny
	}
	salp0 := ip.salp1 * ip.cbet1
	calp0 := math.Hypot(ip.calp1, ip.salp1*ip.sbet1)
	somg1, comg1 := salp0*ip.sbet1, ip.calp1*ip.cbet1
	a.ssig1, a.csig1 = unit(ip.sbet1, comg1)
	ip.arrive(salp0)
	somg2, comg2 := salp0*ip.sbet2, ip.calp2*ip.cbet2
	a.ssig2, a.csig2 = unit(ip.sbet2, comg2)
	a.dn1, a.dn2 = ip.dn1, ip.dn2
	a.sig12 = math.Atan2(max(0, a.csig1*a.ssig2-a.ssig1*a.csig2), a.csig1*a.csig2+a.ssig1*a.ssig2)
	somg12 := max(0, comg1*somg2-somg1*comg2)
	comg12 := comg1*comg2 + somg1*somg2
	// omg12 - lam12
	eta := math.Atan2(somg12*ip.clam12-comg12*ip.slam12, comg12*ip.clam12+somg12*ip.slam12)
	eps = epsilonOf(calp0 * calp0 * ip.ep2)
	c3 := ip.c3At(eps)
	b312 := sines(a.ssig2, a.csig2, &c3) - sines(a.ssig1, a.csig1, &c3)
	domg12 = -ip.f * power(eps, &ip.a3) * salp0 * (a.sig12 + b312)
	v = eta + domg12
	if derivative {
		if ip.calp2 == 0 {
			dv = -2 * ip.f1 * ip.dn1 / ip.sbet1
		} else {
			_, m12b := ip.lengths(eps, a)
			dv = m12b * ip.f1 / (ip.calp2 * ip.cbet2)
		}
	}
	return a, eps, domg12, v, dv
}

// arrive sets the azimuth at point 2 from Clairaut's relation: the paper,
// equations 5 and 45.
func (ip *inverseProblem) arrive(salp0 float64) {
	ip.salp2, ip.calp2 = ip.salp1, math.Abs(ip.calp1)
	if ip.cbet2 != ip.cbet1 {
		ip.salp2 = salp0 / ip.cbet2
	}
	if ip.cbet2 != ip.cbet1 || math.Abs(ip.sbet2) != -ip.sbet1 {
		// cos^2 bet2 - cos^2 bet1, by the difference that loses fewer digits
		d := (ip.sbet1 - ip.sbet2) * (ip.sbet1 + ip.sbet2)
		if ip.cbet1 < -ip.sbet1 {
			d = (ip.cbet2 - ip.cbet1) * (ip.cbet1 + ip.cbet2)
		}
		x := ip.calp1 * ip.cbet1
		ip.calp2 = math.Sqrt(x*x+d) / ip.cbet2
	}
}

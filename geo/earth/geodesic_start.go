package earth

import "math"

// start sets a first azimuth at point 1. For a line so short that the sphere of
// its mean latitude gives it to double precision it also sets the azimuth at
// point 2 and returns the arc length and dnm, the sphere's radius over the polar
// one; otherwise sig12 is -1. The paper, sections 4 and 5.
func (ip *inverseProblem) start() (sig12, dnm float64) {
	sbet12 := ip.sbet2*ip.cbet1 - ip.cbet2*ip.sbet1
	cbet12 := ip.cbet2*ip.cbet1 + ip.sbet2*ip.sbet1
	sbet12a := ip.sbet2*ip.cbet1 + ip.cbet2*ip.sbet1
	short := cbet12 >= 0 && sbet12 < 0.5 && ip.cbet2*ip.lam12 < 0.5
	somg12, comg12 := ip.slam12, ip.clam12
	if short {
		dnm = ip.meanRadius()
		somg12, comg12 = math.Sincos(ip.lam12 / (ip.f1 * dnm))
	}
	ip.salp1 = ip.cbet2 * somg12
	if comg12 >= 0 {
		ip.calp1 = sbet12 + ip.cbet2*ip.sbet1*somg12*somg12/(1+comg12)
	} else {
		ip.calp1 = sbet12a - ip.cbet2*ip.sbet1*somg12*somg12/(1-comg12)
	}
	ssig12 := math.Hypot(ip.salp1, ip.calp1)
	csig12 := ip.sbet1*ip.sbet2 + ip.cbet1*ip.cbet2*comg12
	if short && ssig12 < ip.etol2 {
		turned := 1 - comg12
		if comg12 >= 0 {
			turned = somg12 * somg12 / (1 + comg12)
		}
		ip.salp2, ip.calp2 = unit(ip.cbet1*somg12, sbet12-ip.cbet1*ip.sbet2*turned)
		ip.normalizeStart()
		return math.Atan2(ssig12, csig12), dnm
	}
	// nearly opposite points: the spherical guess is of no use inside the
	// astroid of conjugate points
	if csig12 < 0 && ssig12 < 6*ip.n*math.Pi*ip.cbet1*ip.cbet1 {
		ip.startNearAntipodal(sbet12a)
	}
	ip.normalizeStart()
	return -1, dnm
}

// meanRadius returns the radius, over the polar one, of the sphere that fits at
// the mean latitude.
func (ip *inverseProblem) meanRadius() float64 {
	s, c := ip.sbet1+ip.sbet2, ip.cbet1+ip.cbet2
	sin2 := s * s / (s*s + c*c)
	return math.Sqrt(1 + ip.ep2*sin2)
}

func (ip *inverseProblem) normalizeStart() {
	if !(ip.salp1 <= 0) {
		ip.salp1, ip.calp1 = unit(ip.salp1, ip.calp1)
	} else {
		ip.salp1, ip.calp1 = 1, 0
	}
}

// startNearAntipodal takes the first azimuth from the astroid: the paper,
// equations 53 to 57.
func (ip *inverseProblem) startNearAntipodal(sbet12a float64) {
	// our choice, after the paper, section 5: within this of the cut the
	// limiting form is used
	const xNear = 1000 * 1.4901161193847656e-08
	lam12x := math.Atan2(-ip.slam12, -ip.clam12) // lam12 - pi
	eps := epsilonOf(ip.sbet1 * ip.sbet1 * ip.ep2)
	lamScale := ip.f * ip.cbet1 * power(eps, &ip.a3) * math.Pi
	betScale := lamScale * ip.cbet1
	x, y := lam12x/lamScale, sbet12a/betScale
	if y > -200*epsilon && x > -1-xNear {
		ip.salp1 = min(1, -x)
		ip.calp1 = -math.Sqrt(1 - ip.salp1*ip.salp1)
		return
	}
	k := astroid(x, y)
	s, c := math.Sincos(lamScale * -x * k / (1 + k))
	c = -c
	ip.salp1 = ip.cbet2 * s
	ip.calp1 = sbet12a - ip.cbet2*ip.sbet1*s*s/(1-c)
}

// astroid returns the positive root k of
// k^4 + 2k^3 - (x^2+y^2-1)k^2 - 2y^2 k - y^2 = 0: the paper, equations 55 and 56.
func astroid(x, y float64) float64 {
	p, q := x*x, y*y
	r := (p + q - 1) / 6
	if q == 0 && r <= 0 {
		return 0
	}
	s := p * q / 4
	r2 := r * r
	r3 := r * r2
	disc := s * (s + 2*r3)
	u := r
	if disc >= 0 {
		t3 := s + r3
		// the sign that adds magnitudes
		t3 += math.Copysign(math.Sqrt(disc), t3)
		t := math.Cbrt(t3)
		u += t
		if t != 0 {
			u += r2 / t
		}
	} else {
		u += 2 * r * math.Cos(math.Atan2(math.Sqrt(-disc), -(s+r3))/3)
	}
	v := math.Sqrt(u*u + q)
	uv := u + v
	if u < 0 {
		uv = q / (v - u)
	}
	w := (uv - q) / (2 * v)
	return uv / (math.Sqrt(uv+w*w) + w)
}

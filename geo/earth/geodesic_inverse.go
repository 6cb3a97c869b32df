package earth

import (
	"math"

	"driftreach/geo"

	"github.com/paulmach/orb"
)

// Inverse returns the length in metres of the shortest line on e from p to q,
// and its azimuths at p and q in degrees in [-180, 180]. It holds for any two
// points, nearly opposite ones included; error below 15 nm for the earth.
// Coinciding points have length 0 and azimuth 180 or 0. Karney 2013. About a
// microsecond.
func (e Ellipsoid) Inverse(p, q orb.Point) (s geo.Meters, azi1, azi2 float64) {
	l := e.solver().inverse(p, q)
	return geo.Meters(l.s12), atan2Degrees(l.salp1, l.calp1), atan2Degrees(l.salp2, l.calp2)
}

// geodesicLine is a solved inverse problem.
type geodesicLine struct {
	s12                        float64 // metres
	salp1, calp1, salp2, calp2 float64 // azimuths
	lon12                      float64 // degrees eastward, [-180, 180]
	area                       float64 // between the line and the equator, square metres; see inverseArea
}

// inverseProblem is an inverse problem brought into the canonical case of the
// paper, section 3: point 1 south of the equator and at least as far from it as
// point 2, longitude difference in [0, 180]. Names are the paper's: bet is
// reduced latitude, lam longitude, omg longitude on the auxiliary sphere, alp
// azimuth, sig arc; s and c before a name are its sine and cosine.
type inverseProblem struct {
	*geodesic
	lonSign, swap, latSign     float64
	lam12, slam12, clam12      float64
	sbet1, cbet1, sbet2, cbet2 float64
	dn1, dn2                   float64
	// outputs
	s12                        float64
	salp1, calp1, salp2, calp2 float64
	somg12, comg12             float64
	meridian                   bool
}

// tiny keeps azimuths at a pole meaningful: the paper, section 3; the value is
// our choice: the root of the smallest normal number, so that its square is not 0.
var tiny = math.Sqrt(0x1p-1022)

func (g *geodesic) inverse(p, q orb.Point) geodesicLine {
	return g.solve(p, q, false)
}

// inverseArea is inverse with the area under the line too.
func (g *geodesic) inverseArea(p, q orb.Point) geodesicLine {
	return g.solve(p, q, true)
}

func (g *geodesic) solve(p, q orb.Point, area bool) geodesicLine {
	var ip inverseProblem
	lon12 := ip.canonical(g, p, q)
	if !ip.alongMeridian() && !ip.alongEquator() {
		ip.general()
	}
	l := geodesicLine{s12: 0 + ip.s12, lon12: lon12}
	if area {
		l.area = ip.swap * ip.lonSign * ip.latSign * ip.areaUnder()
	}
	l.salp1, l.calp1, l.salp2, l.calp2 = ip.salp1, ip.calp1, ip.salp2, ip.calp2
	if ip.swap < 0 {
		l.salp1, l.salp2 = l.salp2, l.salp1
		l.calp1, l.calp2 = l.calp2, l.calp1
	}
	l.salp1 *= ip.swap * ip.lonSign
	l.salp2 *= ip.swap * ip.lonSign
	l.calp1 *= ip.swap * ip.latSign
	l.calp2 *= ip.swap * ip.latSign
	return l
}

// canonical fills ip for the line p-q and returns the longitude difference in
// degrees, signed.
func (ip *inverseProblem) canonical(g *geodesic, p, q orb.Point) (lon12 float64) {
	ip.geodesic = g
	ip.lonSign, ip.swap, ip.latSign = 1, 1, 1
	lon12, lost := exactDifference(p[0], q[0])
	signed := lon12
	if math.Signbit(lon12) {
		ip.lonSign, lon12, lost = -1, -lon12, -lost
	}
	ip.lam12 = (lon12 + lost) * radiansPerDegree
	if lon12 > 90 {
		// sine and cosine from the supplement, which is exact
		s, c := math.Sincos(((180 - lon12) - lost) * radiansPerDegree)
		ip.slam12, ip.clam12 = s, -c
		if lon12 == 180 && lost == 0 {
			ip.slam12 = 0
		}
	} else {
		ip.slam12, ip.clam12 = math.Sincos(ip.lam12)
	}
	lat1, lat2 := rounded(p[1]), rounded(q[1])
	if math.Abs(lat1) < math.Abs(lat2) {
		lat1, lat2 = lat2, lat1
		ip.swap = -1
		ip.lonSign = -ip.lonSign
	}
	if !math.Signbit(lat1) {
		ip.latSign, lat1, lat2 = -1, -lat1, -lat2
	}
	ip.reduce(lat1, lat2)
	return signed
}

// reduce sets the reduced latitudes.
func (ip *inverseProblem) reduce(lat1, lat2 float64) {
	ip.sbet1, ip.cbet1 = ip.reducedLatitude(lat1)
	ip.sbet2, ip.cbet2 = ip.reducedLatitude(lat2)
	// rounding must not break the symmetry of equal or opposite latitudes
	if ip.cbet1 < -ip.sbet1 {
		if ip.cbet2 == ip.cbet1 {
			ip.sbet2 = math.Copysign(ip.sbet1, ip.sbet2)
		}
	} else if math.Abs(ip.sbet2) == -ip.sbet1 {
		ip.cbet2 = ip.cbet1
	}
	ip.dn1 = math.Sqrt(1 + ip.ep2*ip.sbet1*ip.sbet1)
	ip.dn2 = math.Sqrt(1 + ip.ep2*ip.sbet2*ip.sbet2)
}

// reducedLatitude returns sine and cosine of the reduced latitude of a latitude
// in degrees; the cosine is kept from 0.
func (g *geodesic) reducedLatitude(lat float64) (sbet, cbet float64) {
	sin, cos := sincosDegrees(lat)
	sbet, cbet = unit(sin*g.f1, cos)
	return sbet, max(tiny, cbet)
}

// alongMeridian solves lines on a meridian, pole crossings included.
func (ip *inverseProblem) alongMeridian() bool {
	if ip.slam12 != 0 && ip.cbet1 > tiny {
		return false
	}
	ip.meridian = true
	ip.calp1, ip.salp1 = ip.clam12, ip.slam12
	ip.calp2, ip.salp2 = 1, 0
	ssig1, csig1 := ip.sbet1, ip.calp1*ip.cbet1
	ssig2, csig2 := ip.sbet2, ip.calp2*ip.cbet2
	sig12 := math.Atan2(max(0, csig1*ssig2-ssig1*csig2), csig1*csig2+ssig1*ssig2)
	arc := arc{sig12, ssig1, csig1, ip.dn1, ssig2, csig2, ip.dn2}
	s12b, _ := ip.lengths(ip.n, arc)
	ip.s12 = s12b * ip.b
	return true
}

// alongEquator solves lines that run along the equator.
func (ip *inverseProblem) alongEquator() bool {
	if ip.sbet1 != 0 || ip.lam12 > math.Pi*ip.f1 {
		return false
	}
	ip.salp1, ip.salp2 = 1, 1
	ip.s12 = ip.a * ip.lam12
	ip.somg12, ip.comg12 = math.Sincos(ip.lam12 / ip.f1)
	return true
}

// arc is a piece of a geodesic on the auxiliary sphere: its length and, at both
// ends, sine and cosine of the distance from the northward crossing of the
// equator and dn = sqrt(1 + ep2 sin^2 bet).
type arc struct {
	sig12, ssig1, csig1, dn1, ssig2, csig2, dn2 float64
}

// lengths returns distance and reduced length in units of the polar radius: the
// paper, equations 7, 38 and 40.
func (g *geodesic) lengths(eps float64, r arc) (s12b, m12b float64) {
	c1, c2 := seriesC1(eps), seriesC2(eps)
	a1, a2 := 1+seriesA1(eps), 1+seriesA2(eps)
	b1 := sines(r.ssig2, r.csig2, &c1) - sines(r.ssig1, r.csig1, &c1)
	b2 := sines(r.ssig2, r.csig2, &c2) - sines(r.ssig1, r.csig1, &c2)
	s12b = a1 * (r.sig12 + b1)
	j12 := (a1-a2)*r.sig12 + (a1*b1 - a2*b2)
	m12b = r.dn2*(r.csig1*r.ssig2) - r.dn1*(r.ssig1*r.csig2) - r.csig1*r.csig2*j12
	return s12b, m12b
}

// distance is the first output of lengths alone.
func (g *geodesic) distance(eps float64, r arc) (s12b float64) {
	c1 := seriesC1(eps)
	b1 := sines(r.ssig2, r.csig2, &c1) - sines(r.ssig1, r.csig1, &c1)
	return (1 + seriesA1(eps)) * (r.sig12 + b1)
}

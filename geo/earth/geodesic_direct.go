package earth

import (
	"math"

	"driftreach/geo"

	"github.com/paulmach/orb"
)

// Direct returns the point reached on e from p along azimuth azi (degrees) after
// s metres, and the azimuth there in degrees in [-180, 180]. The longitude
// continues from that of p and may lie outside [-180, 180]. Error below 15 nm
// for the earth. Karney 2013, section 3. About half a microsecond.
func (e Ellipsoid) Direct(p orb.Point, azi float64, s geo.Meters) (q orb.Point, azi2 float64) {
	g := e.solver()
	// inputs
	salp1, calp1 := sincosDegrees(rounded(azi))
	sbet1, cbet1 := g.reducedLatitude(rounded(p[1]))
	salp0, calp0 := salp1*cbet1, math.Hypot(calp1, salp1*sbet1)
	ssig1, somg1 := sbet1, salp0*sbet1
	csig1 := 1.0
	if sbet1 != 0 || calp1 != 0 {
		csig1 = cbet1 * calp1
	}
	comg1 := csig1
	ssig1, csig1 = unit(ssig1, csig1)
	// intermediate
	eps := epsilonOf(calp0 * calp0 * g.ep2)
	sig12 := g.arcOf(eps, ssig1, csig1, float64(s))
	ssig12, csig12 := math.Sincos(sig12)
	ssig2, csig2 := ssig1*csig12+csig1*ssig12, csig1*csig12-ssig1*ssig12
	cbet2 := math.Hypot(salp0, calp0*csig2)
	if cbet2 == 0 {
		// on a pole: either cosine may be rounded away
		cbet2, csig2 = tiny, tiny
	}
	somg2, comg2 := salp0*ssig2, csig2
	// omg12 unrolled, so that whole turns are kept
	sign := math.Copysign(1, salp0)
	omg12 := sign * (sig12 - (math.Atan2(ssig2, csig2) - math.Atan2(ssig1, csig1)) +
		(math.Atan2(sign*somg2, comg2) - math.Atan2(sign*somg1, comg1)))
	c3 := g.c3At(eps)
	b312 := sines(ssig2, csig2, &c3) - sines(ssig1, csig1, &c3)
	lam12 := omg12 - g.f*power(eps, &g.a3)*salp0*(sig12+b312)
	// outputs
	q[0] = p[0] + lam12*degreesPerRadian
	q[1] = atan2Degrees(calp0*ssig2, g.f1*cbet2)
	return q, atan2Degrees(salp0, calp0*csig2)
}

// arcOf returns the arc length on the auxiliary sphere, in radians, of s metres
// from the arc with sine ssig1 and cosine csig1: the paper, equations 7, 20 and
// 21. The series is exact enough for the earth without a Newton step.
func (g *geodesic) arcOf(eps, ssig1, csig1, s float64) float64 {
	c1, c1p := seriesC1(eps), seriesC1p(eps)
	b11 := sines(ssig1, csig1, &c1)
	sb, cb := math.Sincos(b11)
	// tau1 = sig1 + B11
	stau1, ctau1 := ssig1*cb+csig1*sb, csig1*cb-ssig1*sb
	tau12 := s / (g.b * (1 + seriesA1(eps)))
	st, ct := math.Sincos(tau12)
	b12 := -sines(stau1*ct+ctau1*st, ctau1*ct-stau1*st, &c1p)
	return tau12 - (b12 - b11)
}

package earth

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// LambertConformal is the conformal cone, EPSG methods 9801 (one standard
// parallel: Lat0, Lon0, K0) and 9802 (two: Lat0, Lon0, Lat1, Lat2).
type LambertConformal struct {
	p    Parameters
	e, n float64 // eccentricity, cone constant
	// scale and rho0 are Snyder's a F and rho0, metres, with sign of n
	scale, rho0 float64
}

// errFlatCone is the error for standard parallels symmetric to the equator.
var errFlatCone = errors.New("standard parallels are opposite or on the equator: use mercator or another cylinder")

// NewLambertConformal1 returns the projection with one standard parallel Lat0
// and scale K0 on it. Full double precision. About 120 ns.
func NewLambertConformal1(p Parameters) (LambertConformal, error) {
	if err := p.needScale(); err != nil {
		return LambertConformal{}, fmt.Errorf("lambert conformal: %w", err)
	}
	p.Lat1, p.Lat2 = p.Lat0, p.Lat0
	return newLambertConformal(p)
}

// NewLambertConformal2 returns the projection with two standard parallels; K0 is
// not used.
func NewLambertConformal2(p Parameters) (LambertConformal, error) {
	if err := p.Validate(); err != nil {
		return LambertConformal{}, fmt.Errorf("lambert conformal: %w", err)
	}
	p.K0 = 1
	return newLambertConformal(p)
}

// newLambertConformal works out the constants: Snyder 1987, equations 15-8 to
// 15-10, with t = exp(-psi).
func newLambertConformal(p Parameters) (LambertConformal, error) {
	if math.Abs(p.Lat1+p.Lat2) < 1e-9 || max(math.Abs(p.Lat1), math.Abs(p.Lat2)) == 90 {
		return LambertConformal{}, fmt.Errorf("lambert conformal: %w", errFlatCone)
	}
	l := LambertConformal{p: p, e: p.Ellipsoid.Eccentricity()}
	sin1, cos1 := sincosDegrees(p.Lat1)
	sin2, cos2 := sincosDegrees(p.Lat2)
	psi1, psi2 := isometric(sin1, cos1, l.e), isometric(sin2, cos2, l.e)
	m1, m2 := parallelRadius(p.Ellipsoid, p.Lat1), parallelRadius(p.Ellipsoid, p.Lat2)
	l.n = sin1
	if math.Abs(p.Lat1-p.Lat2) > 1e-9 {
		l.n = (math.Log(m1) - math.Log(m2)) / (psi2 - psi1)
	}
	l.scale = p.Ellipsoid.A * p.K0 * m1 * math.Exp(l.n*psi1) / l.n
	l.rho0 = l.rho(sincosDegrees(p.Lat0))
	return l, nil
}

// rho returns the radius of a parallel on the cone, with the sign of n.
func (l *LambertConformal) rho(sin, cos float64) float64 {
	if cos == 0 {
		if sin*l.n > 0 {
			return 0
		}
		return math.Inf(1)
	}
	return l.scale * math.Exp(-l.n*isometric(sin, cos, l.e))
}

// Forward implements Projection: Snyder 1987, equations 15-7, 14-1, 14-2, 14-4.
func (l LambertConformal) Forward(lonlat orb.Point) (orb.Point, error) {
	lam, sin, cos, err := l.p.input(lonlat)
	if err != nil {
		return orb.Point{}, err
	}
	rho := l.rho(sin, cos)
	if math.IsInf(rho, 0) {
		return orb.Point{}, outsideGlobe(lonlat)
	}
	s, c := math.Sincos(l.n * lam)
	return l.p.output(rho*s, l.rho0-rho*c), nil
}

// coneLongitude returns the longitude in radians of a position on the flattened cone, metres from
// its apex, and false in the gap between its edges. At the apex itself, within 1e-6 m, longitude is
// 0.
func coneLongitude(x, y, n float64) (lam float64, ok bool) {
	lam = math.Atan2(x, y) / n
	// 1e-12: the edges count as inside, whatever the rounding
	if math.Abs(lam) > math.Pi*(1+1e-12) {
		return 0, math.Hypot(x, y) < 1e-6
	}
	return lam, true
}

// Inverse implements Projection: Snyder 1987, equations 14-10, 14-11, 14-9, 15-11.
func (l LambertConformal) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := l.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	y = l.rho0 - y
	sign := math.Copysign(1, l.n)
	lam, ok := coneLongitude(sign*x, sign*y, l.n)
	if !ok {
		return orb.Point{}, outsidePlane(xy)
	}
	psi := -math.Log(math.Hypot(x, y)/math.Abs(l.scale)) / l.n
	return l.p.degrees(lam, fromIsometric(psi, l.e)), nil
}

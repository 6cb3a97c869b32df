package earth

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// Albers is the equal-area cone, EPSG method 9822: Lat0, Lon0, Lat1, Lat2.
type Albers struct {
	p Parameters
	t authalic
	n float64 // cone constant
	// c and rho0 are Snyder's C and rho0 over a
	c, rho0 float64
	q       float64 // Snyder's q at the pole
}

// NewAlbers returns the projection; areas are exact to rounding. About 100 ns.
func NewAlbers(p Parameters) (Albers, error) {
	if err := p.Validate(); err != nil {
		return Albers{}, fmt.Errorf("albers: %w", err)
	}
	if math.Abs(p.Lat1+p.Lat2) < 1e-9 {
		return Albers{}, fmt.Errorf("albers: %w", errFlatCone)
	}
	a := Albers{p: p, t: newAuthalic(p.Ellipsoid)}
	r := a.t.radius / p.Ellipsoid.A
	a.q = 2 * r * r
	// Snyder 1987, equations 14-13 to 14-15
	m1, m2 := parallelRadius(p.Ellipsoid, p.Lat1), parallelRadius(p.Ellipsoid, p.Lat2)
	sin1, cos1 := sincosDegrees(p.Lat1)
	beta1, _ := a.t.sincos(sin1, cos1)
	beta2, _ := a.t.sincos(sincosDegrees(p.Lat2))
	a.n = sin1
	if math.Abs(p.Lat1-p.Lat2) > 1e-9 {
		a.n = (m1*m1 - m2*m2) / (a.q * (beta2 - beta1))
	}
	a.c = m1*m1 + a.n*a.q*beta1
	beta0, _ := a.t.sincos(sincosDegrees(p.Lat0))
	a.rho0 = a.rho(beta0)
	return a, nil
}

// rho returns the radius of a parallel on the cone over a: Snyder 1987, equation
// 14-12.
func (a *Albers) rho(sinBeta float64) float64 {
	return math.Sqrt(max(0, a.c-a.n*a.q*sinBeta)) / a.n
}

// Forward implements Projection: Snyder 1987, equations 14-1, 14-2, 14-4.
func (a Albers) Forward(lonlat orb.Point) (orb.Point, error) {
	lam, sin, cos, err := a.p.input(lonlat)
	if err != nil {
		return orb.Point{}, err
	}
	beta, _ := a.t.sincos(sin, cos)
	rho := a.rho(beta)
	s, c := math.Sincos(a.n * lam)
	r := a.p.Ellipsoid.A
	return a.p.output(r*rho*s, r*(a.rho0-rho*c)), nil
}

// Inverse implements Projection: Snyder 1987, equations 14-9 to 14-11, 14-19.
func (a Albers) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := a.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	radius := a.p.Ellipsoid.A
	y = a.rho0*radius - y
	sign := math.Copysign(1, a.n)
	lam, ok := coneLongitude(sign*x, sign*y, a.n)
	rho2 := (x*x + y*y) / (radius * radius) * a.n * a.n
	sin := (a.c - rho2) / (a.n * a.q)
	// rounding at a pole may overshoot by a few parts in 1e16
	if !ok || math.Abs(sin) > 1+1e-12 {
		return orb.Point{}, outsidePlane(xy)
	}
	sin = max(-1, min(1, sin))
	return a.p.degrees(lam, a.t.latitude(sin, math.Sqrt((1-sin)*(1+sin)))), nil
}

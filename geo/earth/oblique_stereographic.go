package earth

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// ObliqueStereographic is EPSG method 9809, also called double stereographic: the ellipsoid is
// mapped onto a sphere and that onto a plane, both conformally. Symbols are those of EPSG Guidance
// Note 7-2, section 3.2.6.
type ObliqueStereographic struct {
	p          Parameters
	e, n       float64
	half       float64 // half the logarithm of the note's c
	sin0, cos0 float64 // of the sphere's latitude of the origin
	scale      float64 // 2 R k0, metres
}

// NewObliqueStereographic returns the projection: Lat0, Lon0 and K0. Full double
// precision. About 150 ns.
func NewObliqueStereographic(p Parameters) (ObliqueStereographic, error) {
	if err := p.needScale(); err != nil {
		return ObliqueStereographic{}, fmt.Errorf("oblique stereographic: %w", err)
	}
	if math.Abs(p.Lat0) > 89 {
		return ObliqueStereographic{}, fmt.Errorf("oblique stereographic: latitude of origin is %v, must be within 89 degrees", p.Lat0)
	}
	o := ObliqueStereographic{p: p, e: p.Ellipsoid.Eccentricity()}
	e2 := p.Ellipsoid.E2()
	sin, cos := sincosDegrees(p.Lat0)

	o.n = math.Sqrt(1 + e2*cos*cos*cos*cos/(1-e2))
	// rho0 nu0 = a^2 (1-e^2) / (1-e^2 sin^2)^2
	o.scale = 2 * p.K0 * p.Ellipsoid.A * math.Sqrt(1-e2) / (1 - e2*sin*sin)
	// sin chi0 is sin phi0 / n, by the note's choice of c
	o.sin0 = sin / o.n
	o.cos0 = math.Sqrt(1 - o.sin0*o.sin0)
	o.half = math.Atanh(o.sin0) - o.n*isometric(sin, cos, o.e)
	return o, nil
}

// Forward implements Projection.
func (o ObliqueStereographic) Forward(lonlat orb.Point) (orb.Point, error) {
	lam, sin, cos, err := o.p.input(lonlat)
	if err != nil {
		return orb.Point{}, err
	}
	sinChi, cosChi := sin, 0.0
	if cos != 0 {
		q := o.n*isometric(sin, cos, o.e) + o.half
		sinChi, cosChi = math.Tanh(q), 1/math.Cosh(q)
	}
	sinL, cosL := math.Sincos(o.n * lam)
	b := 1 + sinChi*o.sin0 + cosChi*o.cos0*cosL
	if b < 1e-9 { // the opposite point has no position
		return orb.Point{}, outsideGlobe(lonlat)
	}
	return o.p.output(o.scale*cosChi*sinL/b, o.scale*(sinChi*o.cos0-cosChi*o.sin0*cosL)/b), nil
}

// Inverse implements Projection: of the plane by Snyder 1987, equations 20-14,
// 20-15 and 21-15.
func (o ObliqueStereographic) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := o.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	rho := math.Hypot(x, y)
	sinC, cosC := math.Sincos(2 * math.Atan2(rho, o.scale))
	sinChi := cosC * o.sin0
	if rho > 0 {
		sinChi += y * sinC * o.cos0 / rho
	}
	lam := math.Atan2(x*sinC, rho*o.cos0*cosC-y*o.sin0*sinC) / o.n
	psi := (math.Atanh(max(-1, min(1, sinChi))) - o.half) / o.n
	// the sphere is slightly more than a whole turn round
	if math.Abs(lam) > math.Pi {
		return orb.Point{}, outsidePlane(xy)
	}
	return o.p.degrees(lam, fromIsometric(psi, o.e)), nil
}

package earth

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// CassiniSoldner is EPSG method 9806: Lat0, Lon0 and the false origin. Distances at right angles to
// the central meridian are true.
type CassiniSoldner struct {
	p      Parameters
	e2     float64
	series krueger
	m0     float64 // from the equator to the origin along the meridian, metres
}

// cassiniLimit is the largest distance, in degrees of longitude, from the central meridian: the
// series that defines the projection differs from the geodesic by 2 mm at 200 km, and more beyond.
// Our choice.
const cassiniLimit = 4

// NewCassiniSoldner returns the projection. About 100 ns, and 500 ns for the
// inverse.
func NewCassiniSoldner(p Parameters) (CassiniSoldner, error) {
	if err := p.Validate(); err != nil {
		return CassiniSoldner{}, fmt.Errorf("cassini-soldner: %w", err)
	}
	c := CassiniSoldner{p: p, e2: p.Ellipsoid.E2(), series: newKrueger(p.Ellipsoid)}
	c.m0 = c.series.meridian(p.Ellipsoid, p.Lat0)
	return c, nil
}

// Forward implements Projection.
func (c CassiniSoldner) Forward(lonlat orb.Point) (orb.Point, error) {
	lam, sin, cos, err := c.p.input(lonlat)
	if err != nil || math.Abs(lam) > cassiniLimit*radiansPerDegree {
		return orb.Point{}, outsideGlobe(lonlat)
	}
	x, y := c.plane(lam, sin, cos)
	return c.p.output(x, y-c.m0), nil
}

// plane returns a position relative to the central meridian and the equator: Snyder 1987, equations
// 13-7 and 13-8, written without the tangent.
func (c *CassiniSoldner) plane(lam, sin, cos float64) (x, y float64) {
	nu := c.p.Ellipsoid.A / math.Sqrt(1-c.e2*sin*sin)
	a2 := lam * lam * cos * cos         // A squared
	ta2 := lam * lam * sin * sin        // T A squared
	cc := c.e2 * cos * cos / (1 - c.e2) // C
	x = nu * lam * cos * (1 - ta2/6 - ta2*(8*a2-ta2+8*cc*a2)/120)
	y = c.series.along(sin, cos, math.Sqrt(c.e2)) + nu*sin*cos*lam*lam*(1./2+(5*a2-ta2+6*cc*a2)/24)
	return x, y
}

// Inverse implements Projection by Newton's method, with the derivatives of the sphere, starting at
// the place on the meridian. So it agrees with Forward to rounding.
func (c CassiniSoldner) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := c.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	y += c.m0
	phi, lam := y/c.series.radius, 0.0
	if math.Abs(phi) > 1.6 || math.Abs(x) > 1.1*cassiniLimit*radiansPerDegree*c.p.Ellipsoid.A {
		return orb.Point{}, outsidePlane(xy)
	}
	for range 30 {
		sin, cos := math.Sincos(phi)
		px, py := c.plane(lam, sin, cos)
		w := 1 - c.e2*sin*sin
		nu := c.p.Ellipsoid.A / math.Sqrt(w)
		rho := nu * (1 - c.e2) / w
		// near the meridian: dx = nu cos dlam - nu lam sin dphi, dy = rho dphi + nu lam sin cos dlam
		xl, xp, yl, yp := nu*cos, -nu*lam*sin, nu*lam*sin*cos, rho+nu*lam*lam*(cos*cos-sin*sin)/2
		det := xl*yp - xp*yl
		dx, dy := x-px, y-py
		stepL, stepP := (dx*yp-dy*xp)/det, (xl*dy-yl*dx)/det
		lam, phi = lam+max(-0.1, min(0.1, stepL)), max(-1.5707963, min(1.5707963, phi+stepP))
		if math.Abs(stepL*cos)+math.Abs(stepP) < 1e-14 {
			break
		}
	}
	sin, cos := math.Sincos(phi)
	px, py := c.plane(lam, sin, cos)
	// a tenth of a millimetre; a position that did not converge is outside
	if !(math.Hypot(px-x, py-y) < 1e-4) || math.Abs(lam) > 1.001*cassiniLimit*radiansPerDegree {
		return orb.Point{}, outsidePlane(xy)
	}
	return c.p.degrees(lam, phi), nil
}

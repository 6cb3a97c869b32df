package earth

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// ColombiaUrban is EPSG method 1052, used for the grids of Colombian towns: Lat0, Lon0, Height0 and
// the false origin. The plane is at the height of the town.
type ColombiaUrban struct {
	p             Parameters
	e2            float64
	a, b, h0, rho float64 // A and B of the method; height and radius at the origin, metres
	phi0          float64
}

// townLimit is the largest distance, in degrees, from the origin. Our choice: far larger than any
// town.
const townLimit = 3

// NewColombiaUrban returns the projection: EPSG Guidance Note 7-2, section 3.4.3. About
// 50 ns.
func NewColombiaUrban(p Parameters) (ColombiaUrban, error) {
	if err := p.Validate(); err != nil {
		return ColombiaUrban{}, fmt.Errorf("colombia urban: %w", err)
	}
	if !(math.Abs(float64(p.Height0)) <= 10_000) || math.Abs(p.Lat0) > 80 {
		return ColombiaUrban{}, fmt.Errorf("colombia urban: height %v m, latitude %v of the origin, must be within 10000 and 80", float64(p.Height0), p.Lat0)
	}
	c := ColombiaUrban{p: p, e2: p.Ellipsoid.E2(), h0: float64(p.Height0), phi0: p.Lat0 * radiansPerDegree}
	sin, cos := sincosDegrees(p.Lat0)
	nu, rho := c.radii(sin)
	c.a, c.b, c.rho = 1+c.h0/nu, sin/cos/(2*rho*nu), rho
	return c, nil
}

// radii returns the radii of curvature across and along the meridian, metres.
func (c *ColombiaUrban) radii(sin float64) (nu, rho float64) {
	w := 1 - c.e2*sin*sin
	nu = c.p.Ellipsoid.A / math.Sqrt(w)
	return nu, nu * (1 - c.e2) / w
}

// Forward implements Projection.
func (c ColombiaUrban) Forward(lonlat orb.Point) (orb.Point, error) {
	lam, sin, cos, err := c.p.input(lonlat)
	if err != nil || math.Abs(lam) > townLimit*radiansPerDegree || math.Abs(lonlat[1]-c.p.Lat0) > townLimit {
		return orb.Point{}, outsideGlobe(lonlat)
	}
	nu, _ := c.radii(sin)
	across := lam * nu * cos
	phi := lonlat[1] * radiansPerDegree
	return c.p.output(c.a*across, c.stretch(phi)*c.rho*(phi-c.phi0+c.b*across*across)), nil
}

// stretch returns G of the method: the factor by which the height lengthens the meridian, half way
// to a latitude.
func (c *ColombiaUrban) stretch(phi float64) float64 {
	_, rho := c.radii(math.Sin((phi + c.phi0) / 2))
	return 1 + c.h0/rho
}

// Inverse implements Projection by inverting Forward iteratively, so that it agrees with Forward to
// rounding; the inverse of the method itself is 0.1 mm off.
func (c ColombiaUrban) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := c.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	across := x / c.a
	phi := c.phi0
	for range 6 { // the height's part changes by 1e-9 a degree
		phi = c.phi0 + y/(c.stretch(phi)*c.rho) - c.b*across*across
		if !(math.Abs(phi-c.phi0) <= 1.01*townLimit*radiansPerDegree) {
			return orb.Point{}, outsidePlane(xy)
		}
	}
	sin, cos := math.Sincos(phi)
	nu, _ := c.radii(sin)
	lam := across / (nu * cos)
	if !(math.Abs(lam) <= 1.01*townLimit*radiansPerDegree) {
		return orb.Point{}, outsidePlane(xy)
	}
	return c.p.degrees(lam, phi), nil
}

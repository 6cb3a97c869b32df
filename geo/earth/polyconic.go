package earth

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// Polyconic is the American polyconic projection, EPSG method 9818: Lat0, Lon0 and the false
// origin. Each parallel has its own cone.
type Polyconic struct {
	p      Parameters
	e2     float64
	series krueger
	m0     float64 // from the equator to the origin along the meridian, metres
}

// polyconicLimit is the largest distance, in degrees of longitude, from the central meridian:
// farther out, one position in the plane belongs to two places on the globe. Our choice.
const polyconicLimit = 60

// NewPolyconic returns the projection. Full double precision. About 150 ns, and
// 1 us for the inverse.
func NewPolyconic(p Parameters) (Polyconic, error) {
	if err := p.Validate(); err != nil {
		return Polyconic{}, fmt.Errorf("polyconic: %w", err)
	}
	o := Polyconic{p: p, e2: p.Ellipsoid.E2(), series: newKrueger(p.Ellipsoid)}
	o.m0 = o.series.meridian(p.Ellipsoid, p.Lat0)
	return o, nil
}

// Forward implements Projection: Snyder 1987, equations 18-12 to 18-14.
func (o Polyconic) Forward(lonlat orb.Point) (orb.Point, error) {
	lam, sin, cos, err := o.p.input(lonlat)
	if err != nil || math.Abs(lam) > polyconicLimit*radiansPerDegree {
		return orb.Point{}, outsideGlobe(lonlat)
	}
	x, y := o.plane(lam, sin, cos)
	return o.p.output(x, y-o.m0), nil
}

// plane returns a position relative to the central meridian and the equator. Near the equator,
// where the cone's radius grows without limit, half angles keep the digits.
func (o *Polyconic) plane(lam, sin, cos float64) (x, y float64) {
	nu := o.p.Ellipsoid.A / math.Sqrt(1-o.e2*sin*sin)
	half := lam * sin / 2
	sinHalf, cosHalf := math.Sincos(half)
	part := lam / 2 // sin(half) / sin(phi), with its limit at the equator
	if half != 0 {
		part = sinHalf / sin
	}
	return 2 * nu * cos * part * cosHalf, o.series.along(sin, cos, math.Sqrt(o.e2)) + 2*nu*cos*part*sinHalf
}

// Inverse implements Projection by Newton's method on both coordinates, starting at the place on
// the meridian, with the exact derivatives of plane.
func (o Polyconic) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := o.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	y += o.m0
	a := o.p.Ellipsoid.A
	// 1.05 radians is the limit, whose edge curves outwards to a quarter turn
	if math.Abs(x) > 1.1*a || math.Abs(y) > 2.1*a {
		return orb.Point{}, outsidePlane(xy)
	}
	phi, lam := max(-1.5, min(1.5, y/o.series.radius)), 0.0
	lam = x / (a * math.Cos(phi))
	lam = max(-1.2, min(1.2, lam))
	// four steps reach rounding near the origin, eight at the corners
	for range 30 {
		sin, cos := math.Sincos(phi)
		px, py := o.plane(lam, sin, cos)
		dx, dy := x-px, y-py
		xl, xp, yl, yp := o.derivatives(lam, sin, cos)
		det := xl*yp - xp*yl
		stepL, stepP := (dx*yp-dy*xp)/det, (xl*dy-yl*dx)/det
		lam += max(-0.3, min(0.3, stepL))
		phi = max(-1.5707, min(1.5707, phi+max(-0.3, min(0.3, stepP))))
		if math.Abs(stepL)+math.Abs(stepP) < 1e-13 {
			break
		}
	}
	sin, cos := math.Sincos(phi)
	px, py := o.plane(lam, sin, cos)
	// a tenth of a millimetre; a position that did not converge is outside
	if !(math.Hypot(px-x, py-y) < 1e-4) || math.Abs(lam) > 1.001*polyconicLimit*radiansPerDegree {
		return orb.Point{}, outsidePlane(xy)
	}
	return o.p.degrees(lam, phi), nil
}

// derivatives returns the derivatives of x and y by longitude and latitude, metres a radian: x = r
// sin L, y = M + r (1 - cos L), r = nu cot phi, L = lam sin phi.
func (o *Polyconic) derivatives(lam, sin, cos float64) (xl, xp, yl, yp float64) {
	w := 1 - o.e2*sin*sin
	nu := o.p.Ellipsoid.A / math.Sqrt(w)
	dM := nu * (1 - o.e2) / w
	s, c := math.Sincos(lam * sin)
	xl, yl = nu*cos*c, nu*cos*s
	if math.Abs(sin) < 1e-4 { // to first order of phi
		return xl, -nu * sin * lam, yl, dM + nu*cos*lam*lam/2
	}
	r := nu * cos / sin
	// d(nu cot phi)/dphi = nu (e^2 cos^2 / w - 1/sin^2)
	dr := nu * (o.e2*cos*cos/w - 1/(sin*sin))
	xp = dr*s + r*c*lam*cos
	yp = dM + dr*2*math.Sin(lam*sin/2)*math.Sin(lam*sin/2) + r*s*lam*cos
	return xl, xp, yl, yp
}

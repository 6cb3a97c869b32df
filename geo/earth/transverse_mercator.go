package earth

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// TransverseMercator is EPSG method 9807: Lat0, Lon0, K0 and the false origin.
type TransverseMercator struct {
	p      Parameters
	e      float64
	series krueger
	y0     float64 // northing of the origin's latitude, metres
}

// transverseLimit is the largest distance, in degrees of longitude, from the central meridian: the
// series is good to 1e-8 m there, except within a few degrees of the equator, where its error grows
// to a few 1e-6 m beyond 70. Our choice.
const transverseLimit = 80

// NewTransverseMercator returns the projection by the series of Krueger to n^6:
// error below 1e-8 m within 35 degrees of the central meridian (Karney 2011).
// About 150 ns.
func NewTransverseMercator(p Parameters) (TransverseMercator, error) {
	if err := p.needScale(); err != nil {
		return TransverseMercator{}, fmt.Errorf("transverse mercator: %w", err)
	}
	t := TransverseMercator{p: p, e: p.Ellipsoid.Eccentricity(), series: newKrueger(p.Ellipsoid)}
	sin, cos := sincosDegrees(p.Lat0)
	_, t.y0 = t.forward(0, sin, cos)
	return t, nil
}

// UTMParameters returns the parameters of a zone, 1 to 60, of the Universal
// Transverse Mercator grid, north or south of the equator, on an ellipsoid
// (Snyder 1987, section 8).
func UTMParameters(e Ellipsoid, zone int, south bool) Parameters {
	p := Parameters{Ellipsoid: e, Lon0: float64(6*zone - 183), K0: 0.9996, FalseEasting: 500e3}
	if south {
		p.FalseNorthing = 10e6
	}
	return p
}

// Forward implements Projection.
func (t TransverseMercator) Forward(lonlat orb.Point) (orb.Point, error) {
	lam, sin, cos, err := t.p.input(lonlat)
	if err != nil || math.Abs(lam) > transverseLimit*radiansPerDegree {
		return orb.Point{}, outsideGlobe(lonlat)
	}
	x, y := t.forward(lam, sin, cos)
	return t.p.output(x, y-t.y0), nil
}

// forward returns easting and northing from the central meridian and the
// equator: Karney 2011, equations 7 to 11.
func (t *TransverseMercator) forward(lam, sin, cos float64) (x, y float64) {
	scale := t.p.K0 * t.series.radius
	if cos == 0 {
		return 0, math.Copysign(scale*math.Pi/2, sin)
	}
	tau := conformalTangent(sin/cos, t.e)
	sinLam, cosLam := math.Sincos(lam)
	h := math.Hypot(tau, cosLam)
	// xi' = atan2(tau, cosLam), eta' = asinh(sinLam/h): double angles from these
	sx, cx := tau/h, cosLam/h
	sh := sinLam / h
	ch := math.Sqrt(1 + sh*sh)
	xi, eta := complexSines(math.Atan2(tau, cosLam), math.Asinh(sh),
		2*sx*cx, (cx-sx)*(cx+sx), 2*sh*ch, 1+2*sh*sh, &t.series.alpha)
	return scale * eta, scale * xi
}

// Inverse implements Projection: Karney 2011, equations 15 to 21.
func (t TransverseMercator) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := t.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	scale := t.p.K0 * t.series.radius
	xi, eta := (y+t.y0)/scale, x/scale
	// 1.6 radians is past the pole; 2.5 is eta at 80 degrees on the equator
	if math.Abs(xi) > 1.6 || math.Abs(eta) > 2.5 {
		return orb.Point{}, outsidePlane(xy)
	}
	sin2, cos2 := math.Sincos(2 * xi)
	xi, eta = complexSines(xi, eta, sin2, cos2, math.Sinh(2*eta), math.Cosh(2*eta), &t.series.beta)
	sx, cx := math.Sincos(xi)
	sh := math.Sinh(eta)
	tau := geodeticTangent(sx/math.Hypot(sh, cx), t.e)
	return t.p.degrees(math.Atan2(sh, cx), math.Atan(tau)), nil
}

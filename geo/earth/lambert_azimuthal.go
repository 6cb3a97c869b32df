package earth

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// LambertAzimuthal is the azimuthal equal-area projection, EPSG method 9820:
// Lat0, Lon0 and the false origin; oblique, equatorial and polar.
type LambertAzimuthal struct {
	p                Parameters
	t                authalic
	sinBeta, cosBeta float64
	xScale, yScale   float64 // Snyder's D Rq and Rq/D
}

// NewLambertAzimuthal returns the projection; areas are exact to rounding. About
// 60 ns.
func NewLambertAzimuthal(p Parameters) (LambertAzimuthal, error) {
	if err := p.Validate(); err != nil {
		return LambertAzimuthal{}, fmt.Errorf("lambert azimuthal: %w", err)
	}
	l := LambertAzimuthal{p: p, t: newAuthalic(p.Ellipsoid)}
	sin, cos := sincosDegrees(p.Lat0)
	l.sinBeta, l.cosBeta = l.t.sincos(sin, cos)
	d := 1.0
	if cos != 0 {
		d = p.Ellipsoid.A * parallelRadius(p.Ellipsoid, p.Lat0) / (l.t.radius * l.cosBeta)
	}
	l.xScale, l.yScale = l.t.radius*d, l.t.radius/d
	return l, nil
}

// Forward implements Projection: Snyder 1987, equations 24-17 to 24-20; at a
// pole they become 24-23 to 24-25 with D = 1.
func (l LambertAzimuthal) Forward(lonlat orb.Point) (orb.Point, error) {
	lam, sin, cos, err := l.p.input(lonlat)
	if err != nil {
		return orb.Point{}, err
	}
	sinLam, cosLam := math.Sincos(lam)
	s, c := l.t.sincos(sin, cos)
	facing := 1 + l.sinBeta*s + l.cosBeta*c*cosLam
	// the opposite point has no position; nearer than about 0.01 m to it, digits are lost
	if !(facing > 1e-18) {
		return orb.Point{}, outsideGlobe(lonlat)
	}
	b := math.Sqrt(2 / facing)
	return l.p.output(
		l.xScale*b*c*sinLam,
		l.yScale*b*(l.cosBeta*s-l.sinBeta*c*cosLam)), nil
}

// Inverse implements Projection: Snyder 1987, equations 24-26 to 24-29.
func (l LambertAzimuthal) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := l.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	u, v := x/l.xScale, y/l.yScale
	t2 := (u*u + v*v) / 4
	if t2 > 1 {
		return orb.Point{}, outsidePlane(xy)
	}
	cosArc, k := 1-2*t2, math.Sqrt(1-t2)
	east, north := u*k, l.cosBeta*cosArc-l.sinBeta*v*k
	sin := l.sinBeta*cosArc + l.cosBeta*v*k
	return l.p.degrees(math.Atan2(east, north), l.t.latitude(sin, math.Hypot(east, north))), nil
}

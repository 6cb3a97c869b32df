package earth

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// PolarStereographic is EPSG methods 9810 (variant A: Lat0 is 90 or -90, K0) and
// 9829 (variant B: Lat1 is the standard parallel, its sign picks the pole).
type PolarStereographic struct {
	p     Parameters
	e     float64
	south float64 // -1 round the south pole, else 1
	scale float64 // metres per unit of exp(-psi)
}

// NewPolarStereographicA returns the projection with scale K0 at the pole Lat0.
// Full double precision. About 100 ns.
func NewPolarStereographicA(p Parameters) (PolarStereographic, error) {
	if err := p.needScale(); err != nil {
		return PolarStereographic{}, fmt.Errorf("polar stereographic: %w", err)
	}
	if math.Abs(p.Lat0) != 90 {
		return PolarStereographic{}, fmt.Errorf("polar stereographic: latitude of origin is %v, must be 90 or -90", p.Lat0)
	}
	s := newPolarStereographic(p, p.Lat0)
	// Snyder 1987, equation 21-33, with exp(-psi) for t
	s.scale = 2 * p.Ellipsoid.A * p.K0 * s.poleFactor()
	return s, nil
}

// NewPolarStereographicB returns the projection with true scale at latitude Lat1; K0 is not used.
func NewPolarStereographicB(p Parameters) (PolarStereographic, error) {
	if err := p.Validate(); err != nil {
		return PolarStereographic{}, fmt.Errorf("polar stereographic: %w", err)
	}
	if math.Abs(p.Lat1) == 90 {
		p.K0, p.Lat0 = 1, p.Lat1
		return NewPolarStereographicA(p)
	}
	if p.Lat1 == 0 {
		return PolarStereographic{}, fmt.Errorf("polar stereographic: standard parallel is 0, its sign must tell the pole")
	}
	s := newPolarStereographic(p, p.Lat1)
	// Snyder 1987, equation 21-34
	sin, cos := sincosDegrees(math.Abs(p.Lat1))
	s.scale = p.Ellipsoid.A * parallelRadius(p.Ellipsoid, p.Lat1) * math.Exp(isometric(sin, cos, s.e))
	return s, nil
}

func newPolarStereographic(p Parameters, side float64) PolarStereographic {
	return PolarStereographic{p: p, e: p.Ellipsoid.Eccentricity(), south: math.Copysign(1, side)}
}

// poleFactor returns 1/sqrt((1+e)^(1+e) (1-e)^(1-e)).
func (s *PolarStereographic) poleFactor() float64 {
	e := s.e
	return math.Exp(-((1+e)*math.Log1p(e) + (1-e)*math.Log1p(-e)) / 2)
}

// Forward implements Projection: Snyder 1987, equations 21-30 and 21-31.
func (s PolarStereographic) Forward(lonlat orb.Point) (orb.Point, error) {
	lam, sin, cos, err := s.p.input(lonlat)
	if err != nil || lonlat[1]*s.south == -90 {
		return orb.Point{}, outsideGlobe(lonlat)
	}
	rho := 0.0
	if cos != 0 {
		rho = s.scale * math.Exp(-isometric(s.south*sin, cos, s.e))
	}
	sinLam, cosLam := math.Sincos(lam)
	return s.p.output(rho*sinLam, -s.south*rho*cosLam), nil
}

// Inverse implements Projection: Snyder 1987, equations 20-16, 20-18, 21-38.
func (s PolarStereographic) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := s.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	rho := math.Hypot(x, y)
	phi := s.south * fromIsometric(-math.Log(rho/s.scale), s.e)
	return s.p.degrees(math.Atan2(x, -s.south*y), phi), nil
}

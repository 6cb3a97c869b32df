package earth

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// Mercator is EPSG methods 9804 (K0 at the equator), 9805 (standard parallel)
// and, on a sphere, 1024.
type Mercator struct {
	p     Parameters
	e     float64
	scale float64 // metres per radian of longitude
	y0    float64
}

// mercatorLimit is the highest latitude accepted, in degrees. Our choice: the pole itself is at
// infinity.
const mercatorLimit = 89.9999

// NewMercator returns the projection with scale K0 at the equator. Full double
// precision. About 60 ns.
func NewMercator(p Parameters) (Mercator, error) {
	if err := p.needScale(); err != nil {
		return Mercator{}, fmt.Errorf("mercator: %w", err)
	}
	if math.Abs(p.Lat0) > mercatorLimit {
		return Mercator{}, fmt.Errorf("mercator: latitude of origin is %v, must be within %v", p.Lat0, mercatorLimit)
	}
	m := Mercator{p: p, e: p.Ellipsoid.Eccentricity(), scale: p.Ellipsoid.A * p.K0}
	sin, cos := sincosDegrees(p.Lat0)
	m.y0 = m.scale * isometric(sin, cos, m.e)
	return m, nil
}

// NewMercatorParallel returns the projection with true scale at latitude Lat1; K0 is not used.
func NewMercatorParallel(p Parameters) (Mercator, error) {
	if err := p.Validate(); err != nil {
		return Mercator{}, fmt.Errorf("mercator: %w", err)
	}
	p.K0 = parallelRadius(p.Ellipsoid, p.Lat1)
	return NewMercator(p)
}

// parallelRadius returns the radius of a parallel over the equatorial one:
// Snyder 1987, equation 14-15.
func parallelRadius(e Ellipsoid, lat float64) float64 {
	sin, cos := sincosDegrees(lat)
	return cos / math.Sqrt(1-e.E2()*sin*sin)
}

// Forward implements Projection: Snyder 1987, equations 7-6 and 7-7.
func (m Mercator) Forward(lonlat orb.Point) (orb.Point, error) {
	lam, sin, cos, err := m.p.input(lonlat)
	if err != nil || math.Abs(lonlat[1]) > mercatorLimit {
		return orb.Point{}, outsideGlobe(lonlat)
	}
	return m.p.output(m.scale*lam, m.scale*isometric(sin, cos, m.e)-m.y0), nil
}

// Inverse implements Projection. Eastings beyond one turn wrap round.
func (m Mercator) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := m.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	return m.p.degrees(x/m.scale, fromIsometric((y+m.y0)/m.scale, m.e)), nil
}

package earth

import (
	"fmt"

	"github.com/paulmach/orb"
)

// TransverseMercatorSouth is EPSG method 9808, with westing and southing in place of easting and
// northing: Lat0, Lon0, K0 and the false origin, which is added to both.
type TransverseMercatorSouth struct {
	p    Parameters
	grid TransverseMercator // with the same meridian and no false origin
}

// NewTransverseMercatorSouth returns the projection: EPSG Guidance Note 7-2, section
// 3.2.5. As exact and as fast as TransverseMercator.
func NewTransverseMercatorSouth(p Parameters) (TransverseMercatorSouth, error) {
	plain := p
	plain.FalseEasting, plain.FalseNorthing = 0, 0
	grid, err := NewTransverseMercator(plain)
	if err == nil {
		err = p.Validate()
	}
	if err != nil {
		return TransverseMercatorSouth{}, fmt.Errorf("south orientated: %w", err)
	}
	return TransverseMercatorSouth{p, grid}, nil
}

// Forward implements Projection; it returns westing and southing.
func (t TransverseMercatorSouth) Forward(lonlat orb.Point) (orb.Point, error) {
	xy, err := t.grid.Forward(lonlat)
	if err != nil {
		return orb.Point{}, err
	}
	return t.p.output(-xy[0], -xy[1]), nil
}

// Inverse implements Projection; it takes westing and southing.
func (t TransverseMercatorSouth) Inverse(xy orb.Point) (orb.Point, error) {
	x, y, err := t.p.plane(xy)
	if err != nil {
		return orb.Point{}, err
	}
	return t.grid.Inverse(orb.Point{-x, -y})
}

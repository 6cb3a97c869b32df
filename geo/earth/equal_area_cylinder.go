package earth

import (
	"math"

	"github.com/paulmach/orb"
)

// EqualAreaCylinder is the cylindrical equal-area projection of WGS 84 with standard parallels 30
// degrees north and south: EPSG:6933, the plane of EASE-Grid 2.0 (Brodzik et al. 2012, ISPRS
// International Journal of Geo-Information 1). A square in the plane has the same area anywhere,
// with sides along meridians and parallels.
type EqualAreaCylinder struct {
	t     authalic
	scale float64 // metres per radian of longitude
}

// NewEqualAreaCylinder returns the projection. About 1 microsecond.
func NewEqualAreaCylinder() EqualAreaCylinder {
	return EqualAreaCylinder{newAuthalic(WGS84), WGS84.A * parallelRadius(WGS84, 30)}
}

// Forward returns the position in metres of a longitude and latitude in degrees; longitudes may run
// past
// 180. Snyder 1987, equations 10-15 and 10-16.
func (c EqualAreaCylinder) Forward(lonlat orb.Point) orb.Point {
	sin, cos := math.Sincos(lonlat[1] * math.Pi / 180)
	beta, _ := c.t.sincos(sin, cos)
	return orb.Point{c.scale * lonlat[0] * math.Pi / 180, c.t.radius * c.t.radius / c.scale * beta}
}

// Inverse returns the longitude and latitude of a position in metres; a position beyond a pole
// gives the pole. Snyder 1987, equations 10-19 and 10-26.
func (c EqualAreaCylinder) Inverse(xy orb.Point) orb.Point {
	sin := max(-1, min(1, xy[1]*c.scale/(c.t.radius*c.t.radius)))
	lat := c.t.latitude(sin, math.Sqrt((1-sin)*(1+sin)))
	return orb.Point{xy[0] / c.scale * 180 / math.Pi, lat * 180 / math.Pi}
}

// HalfDiagonal returns the distance from the middle to a corner of a square of the plane, at a
// latitude in degrees, both in metres. Away from 30 degrees a square covers narrower and higher, or
// wider and lower ground. Within 1 %, computed on the sphere.
func (c EqualAreaCylinder) HalfDiagonal(lat, side float64) float64 {
	narrow := math.Cos(lat*math.Pi/180) / math.Cos(math.Pi/6)
	return math.Hypot(side*narrow, side/narrow) / 2
}

package earth

import (
	"errors"
	"fmt"
	"math"

	"driftreach/geo"

	"github.com/paulmach/orb"
)

// Projection converts longitude and latitude in degrees, on its own ellipsoid, to easting and
// northing in metres, and back. Both directions fail for positions that are not finite or outside
// the projection's domain. Inverse returns longitudes in [-180, 180).
type Projection interface {
	Forward(lonlat orb.Point) (orb.Point, error)
	Inverse(xy orb.Point) (orb.Point, error)
}

// Parameters defines a map projection. Angles are degrees, lengths metres; the caller converts
// feet.
type Parameters struct {
	Ellipsoid Ellipsoid
	// Lat0 and Lon0 are the origin.
	Lat0, Lon0 float64
	// Lat1 and Lat2 are the standard parallels of the conic projections and, Lat1
	// alone, of PolarStereographicB and Mercator with a standard parallel.
	Lat1, Lat2 float64
	// K0 is the scale at the origin, for TransverseMercator, LambertConformal with one parallel,
	// Mercator, PolarStereographicA, ObliqueMercator and ObliqueStereographic.
	K0 float64
	// Azimuth is the direction of the line of ObliqueMercator, clockwise from north, and Skew the
	// angle by which its grid is turned back.
	Azimuth, Skew               float64
	FalseEasting, FalseNorthing geo.Meters
	// Height0 is the height of the plane of ColombiaUrban.
	Height0 geo.Meters
}

// ErrOutside is returned, wrapped, for a position outside a projection's domain.
var ErrOutside = errors.New("position outside the projection")

// Validate returns an error naming the first parameter that is out of range.
func (p Parameters) Validate() error {
	switch {
	case !(p.Ellipsoid.A > 0) || math.IsInf(p.Ellipsoid.A, 0):
		return fmt.Errorf("ellipsoid radius is %v, must be above 0", p.Ellipsoid.A)
	case !(p.Ellipsoid.F >= 0 && p.Ellipsoid.F <= 0.02):
		return fmt.Errorf("ellipsoid flattening is %v, must be 0 to 0.02", p.Ellipsoid.F)
	case !(math.Abs(p.Lon0) <= 360):
		return fmt.Errorf("longitude of origin is %v, must be -360 to 360", p.Lon0)
	case !finite(float64(p.FalseEasting), float64(p.FalseNorthing)):
		return fmt.Errorf("false origin %v, %v is not finite", p.FalseEasting, p.FalseNorthing)
	}
	for _, lat := range []float64{p.Lat0, p.Lat1, p.Lat2} {
		if !(math.Abs(lat) <= 90) {
			return fmt.Errorf("latitude is %v, must be -90 to 90", lat)
		}
	}
	return nil
}

// needScale is Validate for projections that use K0.
func (p Parameters) needScale() error {
	if err := p.Validate(); err != nil {
		return err
	}
	if !(p.K0 > 0) || math.IsInf(p.K0, 0) {
		return fmt.Errorf("scale factor is %v, must be above 0", p.K0)
	}
	return nil
}

// input returns the radians east of the origin, in [-pi, pi), and the sine and cosine of latitude.
func (p *Parameters) input(lonlat orb.Point) (lam, sin, cos float64, err error) {
	if !finite(lonlat[0], lonlat[1]) || math.Abs(lonlat[1]) > 90 {
		return 0, 0, 0, outsideGlobe(lonlat)
	}
	sin, cos = sincosDegrees(lonlat[1])
	return longitudeDifference(p.Lon0, lonlat[0]) * radiansPerDegree, sin, cos, nil
}

// output adds the false origin.
func (p *Parameters) output(x, y float64) orb.Point {
	return orb.Point{x + float64(p.FalseEasting), y + float64(p.FalseNorthing)}
}

// plane subtracts the false origin.
func (p *Parameters) plane(xy orb.Point) (x, y float64, err error) {
	if !finite(xy[0], xy[1]) {
		return 0, 0, outsidePlane(xy)
	}
	return xy[0] - float64(p.FalseEasting), xy[1] - float64(p.FalseNorthing), nil
}

// degrees returns the point lam radians east of the origin at latitude phi.
func (p *Parameters) degrees(lam, phi float64) orb.Point {
	return orb.Point{Wrap(p.Lon0 + lam*degreesPerRadian), phi * degreesPerRadian}
}

func outsidePlane(xy orb.Point) error {
	return fmt.Errorf("easting %v, northing %v: %w", xy[0], xy[1], ErrOutside)
}

func outsideGlobe(lonlat orb.Point) error {
	return fmt.Errorf("longitude %v, latitude %v: %w", lonlat[0], lonlat[1], ErrOutside)
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

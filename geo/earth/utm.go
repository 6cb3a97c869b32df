package earth

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// UTMPlace is a position on the Universal Transverse Mercator grid of WGS 84.
type UTMPlace struct {
	Zone              int  // 1 to 60
	Band              byte // of latitude, C to X without I and O; those before N are south of the equator
	Easting, Northing geo.Meters
}

// UTM returns the zone of the Universal Transverse Mercator grid on WGS 84, 1 to 60,
// north or south of the equator.
func UTM(zone int, south bool) (TransverseMercator, error) {
	if zone < 1 || zone > 60 {
		return TransverseMercator{}, fmt.Errorf("utm zone is %d, must be 1 to 60", zone)
	}
	return NewTransverseMercator(UTMParameters(WGS84, zone, south))
}

// utmBands are the bands of latitude, eight degrees each from 80 degrees south; the
// last is twelve degrees high (NGA.SIG.0012, 2014, section 3).
const utmBands = "CDEFGHJKLMNPQRSTUVWX"

// UTMOf returns the UTM grid position of WGS 84 degrees, in the zone used on maps and by receivers:
// six degrees wide, except on the coast of Norway and in Svalbard, where zones are widened or left
// out (NGA.SIG.0012, 2014, section 3). The error is ErrOutside, wrapped, north of 84 degrees north
// and south of 80 degrees south, where the grid ends. Error below 1e-8 m.
func UTMOf(p orb.Point) (UTMPlace, error) {
	lat := p[1]
	if !(lat >= -80 && lat <= 84) || !finite(p[0], lat) {
		return UTMPlace{}, outsideGlobe(p)
	}
	lon := Wrap(p[0])
	zone := int(math.Floor(lon/6)) + 31
	switch {
	case lat >= 56 && lat < 64 && lon >= 3 && lon < 12: // the coast of Norway
		zone = 32
	case lat >= 72 && lon >= 0 && lon < 42: // Svalbard: only zones 31, 33, 35 and 37
		zone = 31 + 2*int(math.Floor((lon+3)/12))
	}
	t, err := UTM(zone, lat < 0)
	if err != nil {
		return UTMPlace{}, err
	}
	xy, err := t.Forward(orb.Point{lon, lat})
	if err != nil {
		return UTMPlace{}, err
	}
	band := utmBands[min(int(math.Floor(lat/8))+10, len(utmBands)-1)]
	return UTMPlace{Zone: zone, Band: band, Easting: geo.Meters(xy[0]), Northing: geo.Meters(xy[1])}, nil
}

package earth

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"
)

// CRS is a coordinate reference system whose positions can be brought to WGS 84
// longitude and latitude. The zero CRS is WGS 84 degrees itself.
type CRS struct {
	Name  string // as its definition says
	Datum string // as its definition says; blank for WGS 84

	projection Projection // nil for a geographic system
	unit       float64    // metres or degrees of one unit of a coordinate; 0 means 1
}

// ErrUnsupported is returned, wrapped, for a reference system whose positions
// would come out wrong: another datum, method, prime meridian or orientation.
var ErrUnsupported = errors.New("reference system not supported")

// ErrDatum is returned, wrapped, and is an ErrUnsupported, for a datum whose
// shift to WGS 84 would have to be applied.
var ErrDatum = fmt.Errorf("%w", ErrUnsupported)

// longestCRS bounds a definition. Our choice: the longest of EPSG's own is a
// quarter of it, 64 KiB.
const longestCRS = 64 << 10

// ParseCRS reads a definition: WKT 1 as the OGC and as ESRI write it (01-009,
// .prj files), WKT 2 (18-010r7), PROJJSON 0.7, or a code as in "EPSG:26911",
// "ESRI:102008", "OGC:CRS84" or "urn:ogc:def:crs:EPSG::26911". A code is known when it
// stands in crs_code.go, crs_esri.go or state_plane.tsv. Coordinates are taken in the order in which files hold them, east
// before north, whatever order of axes the definition names. Parameters are used
// as given, so any zone or national grid of a known method works without a table.
func ParseCRS(text string) (CRS, error) {
	text = strings.TrimSpace(strings.TrimPrefix(text, "\ufeff"))
	switch {
	case text == "":
		return CRS{}, fmt.Errorf("the definition is blank: %w", ErrUnsupported)
	case len(text) > longestCRS:
		return CRS{}, fmt.Errorf("the definition is longer than %d bytes: %w", longestCRS, ErrUnsupported)
	case strings.HasPrefix(text, "{"):
		return parsePROJJSON(text)
	case strings.ContainsAny(text, "[("):
		return parseWKT(text)
	}
	return parseCode(text)
}

// IsWGS84 says whether positions of c are WGS 84 degrees as they stand.
func (c CRS) IsWGS84() bool { return c.IsGeographic() && (c.unit == 0 || c.unit == 1) && c.Datum == "" }

// IsGeographic says whether positions of c are longitude and latitude.
func (c CRS) IsGeographic() bool { return c.projection == nil }

// Degrees returns the longitude and latitude, in degrees of WGS 84, of a position
// in the units of c, east before north. Datums that differ from WGS 84 by a metre
// or so by convention are taken as equal (see the list in crs_datum.go). It fails,
// wrapping ErrOutside, for positions outside the projection. Within 1e-6 m of
// PROJ; 100 to 300 ns.
func (c CRS) Degrees(xy orb.Point) (orb.Point, error) {
	if c.unit != 0 && c.unit != 1 {
		xy[0] *= c.unit
		xy[1] *= c.unit
	}
	if c.projection == nil {
		return xy, nil
	}
	lonlat, err := c.projection.Inverse(xy)
	if err != nil {
		return orb.Point{}, err
	}
	if !finite(lonlat[0], lonlat[1]) {
		return orb.Point{}, outsidePlane(xy)
	}
	return lonlat, nil
}

// definition is a reference system taken apart, whatever it was written in.
// Angles are degrees, lengths metres.
type definition struct {
	name       string
	method     string // blank for a geographic system
	datum      string
	ellipsoid  Ellipsoid
	meridian   float64
	unit       float64 // metres or degrees of one unit of a coordinate
	parameters map[string]float64
	axes       []string  // directions, small letters
	shift      []float64 // to WGS 84, as TOWGS84 lists them; nil when not given
	extension  string    // a PROJ string that overrides the rest
}

func (d *definition) set(name string, v float64) {
	if d.parameters == nil {
		d.parameters = map[string]float64{}
	}
	d.parameters[plainName(name)] = v
}

// build makes the reference system, or says why it cannot be trusted.
func (d *definition) build() (CRS, error) {
	c := CRS{Name: d.name, unit: snapUnit(d.unit)}
	if err := d.checkDatum(); err != nil {
		return CRS{}, err
	}
	if !isWGS84(d.datum) {
		c.Datum = d.datum
	}
	if d.meridian != 0 {
		return CRS{}, fmt.Errorf("%s: prime meridian is %v and not Greenwich: %w", d.name, d.meridian, ErrUnsupported)
	}
	if !(c.unit > 0) || math.IsInf(c.unit, 0) {
		return CRS{}, fmt.Errorf("%s: unit is %v: %w", d.name, d.unit, ErrUnsupported)
	}
	if d.method == "" {
		return c, nil
	}
	var err error
	if c.projection, err = d.project(); err != nil {
		return CRS{}, fmt.Errorf("%s: %w", d.name, err)
	}
	return c, nil
}

// snapUnit returns the exact unit where a definition gives it rounded.
func snapUnit(v float64) float64 {
	for _, exact := range []float64{
		1,
		0.3048,        // international foot, exact (NIST SP 811, appendix B)
		1200.0 / 3937, // US survey foot, exact (NIST SP 811, appendix B.6)
	} {
		// definitions print 12 to 15 digits
		if math.Abs(v-exact) < 1e-11 {
			return exact
		}
	}
	return v
}

// plainName returns a name's letters and digits, small.
func plainName(name string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		}
		return -1
	}, name)
}

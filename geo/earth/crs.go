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
	Name  string // as written in the definition
	Datum string // as written in the definition; blank for WGS 84

	projection Projection // nil for a geographic system
	unit       float64    // metres or degrees of one unit of a coordinate; 0 means 1
}

// ErrUnsupported is returned, wrapped, for a reference system that would give wrong positions:
// another datum, method, prime meridian or orientation.
var ErrUnsupported = errors.New("reference system not supported")

// ErrDatum is returned, wrapped, for a datum that needs a shift to WGS 84. It is also an
// ErrUnsupported.
var ErrDatum = fmt.Errorf("%w", ErrUnsupported)

// longestCRS limits the length of a definition to 64 KiB. Our choice: four times the longest of
// EPSG's own.
const longestCRS = 64 << 10

// ParseCRS reads a definition: WKT 1 as written by the OGC and by ESRI (01-009, .prj files), WKT 2
// (18-010r7), PROJJSON 0.7, or a code such as "EPSG:26911", "ESRI:102008", "OGC:CRS84" or
// "urn:ogc:def:crs:EPSG::26911". Known codes are those in crs_code.go, crs_esri.go and
// state_plane.tsv. Coordinates are read in the order used in files, east before north, whatever
// order of axes the definition gives. Parameters are used as given, so any zone or national grid of
// a known method works without a table.
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

// IsWGS84 says whether positions of c already are WGS 84 degrees.
func (c CRS) IsWGS84() bool { return c.IsGeographic() && (c.unit == 0 || c.unit == 1) && c.Datum == "" }

// IsGeographic says whether positions of c are longitude and latitude.
func (c CRS) IsGeographic() bool { return c.projection == nil }

// Degrees returns the longitude and latitude, in degrees of WGS 84, of a position in the units of
// c, east before north. Datums that differ from WGS 84 by about a metre count as equal by
// convention (see the list in crs_datum.go). It fails, wrapping ErrOutside, for positions outside
// the projection. Within 1e-6 m of PROJ; 100 to 300 ns.
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

// definition is a parsed reference system, from any of the formats. Angles are degrees, lengths
// metres.
type definition struct {
	name       string
	method     string // blank for a geographic system
	datum      string
	ellipsoid  Ellipsoid
	meridian   float64
	unit       float64 // metres or degrees of one unit of a coordinate
	parameters map[string]float64
	axes       []string  // directions in lower case
	shift      []float64 // to WGS 84, as TOWGS84 lists them; nil when not given
	extension  string    // a PROJ string that overrides the rest
}

func (d *definition) set(name string, v float64) {
	if d.parameters == nil {
		d.parameters = map[string]float64{}
	}
	d.parameters[plainName(name)] = v
}

// build makes the reference system, or returns an error that says why it cannot be used.
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

// snapUnit returns the exact unit where a definition gives a rounded one.
func snapUnit(v float64) float64 {
	for _, exact := range []float64{
		1,
		0.3048,        // international foot, exact (NIST SP 811, appendix B)
		1200.0 / 3937, // US survey foot, exact (NIST SP 811, appendix B.6)
	} {
		// definitions give 12 to 15 digits
		if math.Abs(v-exact) < 1e-11 {
			return exact
		}
	}
	return v
}

// plainName returns the letters and digits of a name in lower case.
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

package earth

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// coded is a system known by its EPSG code.
type coded struct {
	code   int
	name   string
	datum  string
	method string             // blank for degrees
	values map[string]float64 // by the first of parameterNames
	unit   float64            // metres or degrees of one unit of a coordinate; 0 means 1
}

// codes are the systems other than UTM zones that are known by code: those commonly used for
// nation-wide layers. [P] EPSG Geodetic Parameter Dataset; compared with PROJ.
var codes = []coded{
	{4326, "WGS 84", "", "", nil, 0},
	{4979, "WGS 84", "", "", nil, 0},
	{3857, "WGS 84 / Pseudo-Mercator", "", "Popular Visualisation Pseudo Mercator", nil, 0},
	{3035, "ETRS89-extended / LAEA Europe", "ETRS89", "Lambert Azimuthal Equal Area", values(52, 10, 0, 0, 4321000, 3210000), 0},
	{5070, "NAD83 / Conus Albers", "NAD83", "Albers", values(23, -96, 29.5, 45.5, 0, 0), 0},
	{6350, "NAD83(2011) / Conus Albers", "NAD83", "Albers", values(23, -96, 29.5, 45.5, 0, 0), 0},
	{3338, "NAD83 / Alaska Albers", "NAD83", "Albers", values(50, -154, 55, 65, 0, 0), 0},
	{3310, "NAD83 / California Albers", "NAD83", "Albers", values(0, -120, 34, 40.5, 0, -4000000), 0},
	{3005, "NAD83 / BC Albers", "NAD83", "Albers", values(45, -126, 50, 58.5, 1000000, 0), 0},
	{3347, "NAD83 / Statistics Canada Lambert", "NAD83", "Lambert Conic Conformal (2SP)", values(63.390675, -91.0-52.0/60, 49, 77, 6200000, 3000000), 0},
	{3034, "ETRS89-extended / LCC Europe", "ETRS89", "Lambert Conic Conformal (2SP)", values(52, 10, 35, 65, 4000000, 2800000), 0},
	{2154, "RGF93 v1 / Lambert-93", "RGF93", "Lambert Conic Conformal (2SP)", values(46.5, 3, 49, 44, 700000, 6600000), 0},
	{2193, "NZGD2000 / New Zealand Transverse Mercator 2000", "NZGD2000", "Transverse Mercator", scaled(values(0, 173, 0, 0, 1600000, 10000000), 0.9996), 0},
	{5880, "SIRGAS 2000 / Brazil Polyconic", "SIRGAS 2000", "American Polyconic", values(0, -54, 0, 0, 5000000, 10000000), 0},
	{3031, "WGS 84 / Antarctic Polar Stereographic", "", "Polar Stereographic (variant B)", values(0, 0, -71, 0, 0, 0), 0},
	{3976, "WGS 84 / NSIDC Sea Ice Polar Stereographic South", "", "Polar Stereographic (variant B)", values(0, 0, -70, 0, 0, 0), 0},
	{3413, "WGS 84 / NSIDC Sea Ice Polar Stereographic North", "", "Polar Stereographic (variant B)", values(0, -45, 70, 0, 0, 0), 0},
	{3995, "WGS 84 / Arctic Polar Stereographic", "", "Polar Stereographic (variant B)", values(0, 0, 71, 0, 0, 0), 0},
	{32661, "WGS 84 / UPS North", "", "Polar Stereographic (variant A)", scaled(values(90, 0, 0, 0, 2000000, 2000000), 0.994), 0},
	{32761, "WGS 84 / UPS South", "", "Polar Stereographic (variant A)", scaled(values(-90, 0, 0, 0, 2000000, 2000000), 0.994), 0},
}

func values(lat0, lon0, lat1, lat2, fe, fn float64) map[string]float64 {
	return map[string]float64{"lat0": lat0, "lon0": lon0, "lat1": lat1, "lat2": lat2, "fe": fe, "fn": fn}
}

func scaled(v map[string]float64, k0 float64) map[string]float64 {
	v["k0"] = k0
	return v
}

// zones are the code ranges of UTM zones: a code is base plus zone.
var zones = []struct {
	base, first, last int
	south             bool
	name, datum       string
}{
	{32600, 1, 60, false, "WGS 84", ""},
	{32700, 1, 60, true, "WGS 84", ""},
	{26900, 1, 23, false, "NAD83", "NAD83"},
	{6329, 1, 19, false, "NAD83(2011)", "NAD83"},
	{25800, 28, 38, false, "ETRS89", "ETRS89"},
	{31954, 11, 22, false, "SIRGAS 2000", "SIRGAS 2000"},
	{31960, 17, 25, true, "SIRGAS 2000", "SIRGAS 2000"},
	{7800, 46, 59, true, "GDA2020", "GDA2020"},
}

// parseCode reads "EPSG:26911", "ESRI:102008", "OGC:CRS84", "CRS84", or such a code as an OGC URN
// or URL.
func parseCode(text string) (CRS, error) {
	upper := strings.ToUpper(strings.TrimSpace(text))
	words := strings.FieldsFunc(upper, func(r rune) bool { return r == ':' || r == '/' || r == '#' })
	if len(words) == 0 {
		return CRS{}, fmt.Errorf("%q is no reference system: %w", text, ErrUnsupported)
	}
	last := words[len(words)-1]
	switch {
	case last == "CRS84" || last == "CRS84H" || last == "WGS84" && len(words) == 1:
		return CRS{Name: "WGS 84"}, nil
	case last == "CRS83":
		return codeCRS(4269)
	}
	code, err := strconv.Atoi(last)
	epsg := len(words) == 1 || slices.Contains(words, "EPSG") || strings.Contains(upper, "EPSG.XML")
	// ESRI's own codes for web maps mean the same system
	if code == 102100 || code == 102113 || code == 900913 {
		code, epsg = 3857, true
	}
	esri := slices.Contains(words, "ESRI")
	switch {
	case err != nil || !epsg && !esri:
		return CRS{}, fmt.Errorf("%q is no reference system: write EPSG: and a number: %w", text, ErrUnsupported)
	case code >= firstESRI || !epsg:
		return esriCRS(code)
	}
	return codeCRS(code)
}

func codeCRS(code int) (CRS, error) {
	for _, c := range slices.Concat(codes, familyCodes) {
		if c.code == code {
			return c.crs()
		}
	}
	for _, d := range nullDatums {
		if d.code == code && code != 0 {
			return coded{code: code, name: d.name, datum: d.datum[0]}.crs()
		}
	}
	if c, found := statePlaneCode(code); found {
		return c.crs()
	}
	for _, z := range zones {
		if zone := code - z.base; zone >= z.first && zone <= z.last {
			side := "N"
			if z.south {
				side = "S"
			}
			p := UTMParameters(Ellipsoid{}, zone, z.south)
			return coded{code, fmt.Sprintf("%s / UTM zone %d%s", z.name, zone, side), z.datum, "Transverse Mercator",
				scaled(values(0, p.Lon0, 0, 0, float64(p.FalseEasting), float64(p.FalseNorthing)), p.K0), 0}.crs()
		}
	}
	if err := checkShifted(code); err != nil {
		return CRS{}, err
	}
	return CRS{}, fmt.Errorf("EPSG:%d is not among the codes known here: its definition is needed as WKT, for example a .prj file: %w", code, ErrUnsupported)
}

func (c coded) crs() (CRS, error) {
	d := definition{name: c.name, datum: c.datum, ellipsoid: WGS84, method: c.method, unit: cmp.Or(c.unit, 1)}
	if c.datum != "" {
		d.ellipsoid = GRS80
	}
	for name, v := range c.values { // copied into a map
		d.set(parameterNames[name][0], v)
	}
	return d.build()
}

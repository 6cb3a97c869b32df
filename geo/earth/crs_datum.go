package earth

import (
	"fmt"
	"math"
	"strings"
)

// nullDatums are the datums that EPSG relates to WGS 84 by a transformation
// of no shift: by convention their degrees are WGS 84 degrees, to a metre or two
// (EPSG transformations 1188, 1149, 8450, 1565, 15485, 1671, 7818). [P] Names are
// EPSG's and ESRI's, letters and digits only.
var nullDatums = map[string]bool{
	"northamericandatum1983": true, "northamerican1983": true, "nad83": true, "nad1983": true,
	"nad83highaccuracyreferencenetwork": true, "northamerican1983harn": true,
	"nad83nationalspatialreferencesystem2007": true, "nad1983nsrs2007": true,
	"nad83nationalspatialreferencesystem2011": true, "nad19832011": true,
	"nad83canadianspatialreferencesystem": true, "northamerican1983csrs": true,
	"nad83continuouslyoperatingreferencestation1996": true, "nad1983cors96": true,
	"europeanterrestrialreferencesystem1989": true, "etrs1989": true, "etrs89": true,
	"newzealandgeodeticdatum2000": true, "nzgd2000": true,
	"geocentricdatumofaustralia2020": true, "gda2020": true,
	"reseaugeodesiquefrancais1993": true, "rgf1993": true, "rgf1993v1": true, "rgf93": true,
	"sistemadereferenciageocentricoparalasamericas2000": true, "sirgas2000": true,
	"sistemadereferenciageocentricoparaamericadelsur2000": true,
	"japanesegeodeticdatum2011":                           true, "jgd2011": true,
	"reseaugeodesiquefrancais1993v1": true, "reseaugeodesiquefrancais1993v2": true, "reseaugeodesiquefrancais1993v2b": true,
}

// isWGS84 says whether a datum is WGS 84, in one of its realizations or an
// international frame that it follows to a decimetre.
func isWGS84(datum string) bool {
	name := datumName(datum)
	return name == "" || name == "wgs84" || name == "wgs1984" ||
		strings.HasPrefix(name, "worldgeodeticsystem1984") || strings.HasPrefix(name, "wgs1984") ||
		strings.HasPrefix(name, "internationalterrestrialreferenceframe") || strings.HasPrefix(name, "itrf")
}

// datumName returns a datum's plain name without the marks that programs put
// round it.
func datumName(datum string) string {
	name := strings.TrimSuffix(plainName(datum), "ensemble")
	if len(datum) > 2 && strings.EqualFold(datum[:2], "D_") {
		name = name[1:]
	}
	return name
}

// checkDatum refuses a datum whose degrees are not those of WGS 84.
func (d *definition) checkDatum() error {
	var shift float64
	for i, v := range d.shift {
		switch {
		case i >= 3 && i < 6: // seconds of arc
			v *= 6378137 * math.Pi / (180 * 3600)
		case i == 6: // parts per million
			v *= 6.378137
		}
		shift += math.Abs(v)
	}
	known := isWGS84(d.datum) || nullDatums[datumName(d.datum)]
	// Our choice, as the refusal promises: a metre.
	if !(shift <= 1) {
		return fmt.Errorf("%s: the datum %s lies up to %.0f m from WGS 84, and no shift is applied here: %w", d.name, d.datum, shift, ErrUnsupported)
	}
	if !known && d.shift == nil {
		return fmt.Errorf("%s: positions on the datum %q may lie more than a metre from WGS 84, and no shift is applied here: %w", d.name, d.datum, ErrUnsupported)
	}
	// 0.01 of 1/f is 0.4 mm at the pole per 1e-8 of f; WGS 84 and GRS 80 differ by 1e-6
	if known && (math.Abs(d.ellipsoid.A-WGS84.A) > 0.001 || math.Abs(d.ellipsoid.F-WGS84.F) > 1e-9) {
		return fmt.Errorf("%s: the ellipsoid does not belong to the datum %s: %w", d.name, d.datum, ErrUnsupported)
	}
	return nil
}

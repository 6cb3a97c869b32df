package earth

import (
	"fmt"
	"math"
	"strings"
)

// isWGS84 says whether a datum is WGS 84 in one of its realizations, or an international frame that
// agrees with it to a decimetre.
func isWGS84(datum string) bool {
	name := datumName(datum)
	return name == "" || name == "wgs84" || name == "wgs1984" ||
		strings.HasPrefix(name, "worldgeodeticsystem1984") || strings.HasPrefix(name, "wgs1984") ||
		strings.HasPrefix(name, "internationalterrestrialreferenceframe") || strings.HasPrefix(name, "itrf") || strings.HasPrefix(name, "igs")
}

// datumName returns a datum's plain name without the prefixes and suffixes that programs add.
func datumName(datum string) string {
	name := strings.TrimSuffix(plainName(datum), "ensemble")
	if len(datum) > 2 && strings.EqualFold(datum[:2], "D_") {
		name = name[1:]
	}
	return name
}

// checkDatum returns an error for a datum whose degrees are not those of WGS 84.
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
	known := isWGS84(d.datum) || isNullDatum(d.datum)
	// Our choice, as the error message says: a metre.
	if !(shift <= 1) {
		return fmt.Errorf("%s: the datum %s lies up to %.0f m from WGS 84, and no shift is applied here: %w", d.name, d.datum, shift, ErrDatum)
	}
	if !known && d.shift == nil {
		return fmt.Errorf("%s: positions on the datum %q may lie more than a metre from WGS 84, and no shift is applied here: %w", d.name, d.datum, ErrDatum)
	}
	// 0.01 of 1/f is 0.4 mm at the pole per 1e-8 of f; WGS 84 and GRS 80 differ by 1e-6
	if known && (math.Abs(d.ellipsoid.A-WGS84.A) > 0.001 || math.Abs(d.ellipsoid.F-WGS84.F) > 1e-9) {
		return fmt.Errorf("%s: the ellipsoid does not belong to the datum %s: %w", d.name, d.datum, ErrUnsupported)
	}
	return nil
}

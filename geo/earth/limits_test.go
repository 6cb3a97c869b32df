package earth

import (
	"testing"

	"github.com/paulmach/orb"
)

// TestLimits: values just on either side of small thresholds. Each threshold is a step below the
// printed precision of definitions and coordinates: a unit to eleven decimals, parallels to nine.
func TestLimits(t *testing.T) {
	for _, exact := range []float64{1, 0.3048, 1200.0 / 3937} {
		for _, off := range []float64{0.9e-11, -0.9e-11} {
			if got := snapUnit(exact + off); got != exact {
				t.Errorf("a unit of %v%+g m is taken for %v", exact, off, got)
			}
		}
		for _, off := range []float64{1.05e-11, -1.05e-11} {
			if got := snapUnit(exact + off); got != exact+off {
				t.Errorf("a unit of %v%+g m is taken for %v", exact, off, got)
			}
		}
	}
	cone := func(sum float64) Parameters {
		return Parameters{Ellipsoid: GRS80, Lat0: 0, Lat1: 30, Lat2: -30 + sum, K0: 1}
	}
	for sum, flat := range map[float64]bool{0: true, 0.95e-9: true, -0.95e-9: true, 1.05e-9: false, -1.05e-9: false} {
		_, lambert := NewLambertConformal2(cone(sum))
		_, albers := NewAlbers(cone(sum))
		if (lambert != nil) != flat || (albers != nil) != flat {
			t.Errorf("parallels that differ from opposite ones by %g degrees: %v, %v", sum, lambert, albers)
		}
	}
	// on the cone with one parallel the scale is 1 there; with two parallels closer than the
	// threshold it is the same cone
	for _, apart := range []float64{0, 0.9e-9} {
		p := Parameters{Ellipsoid: GRS80, Lat0: 40, Lat1: 40, Lat2: 40 + apart, K0: 1}
		l, err := NewLambertConformal2(p)
		if err != nil {
			t.Fatal(err)
		}
		a, err := NewAlbers(p)
		if err != nil {
			t.Fatal(err)
		}
		want, _ := NewLambertConformal1(Parameters{Ellipsoid: GRS80, Lat0: 40, Lat1: 40, K0: 1})
		if l.n != want.n || l.rho0 != want.rho0 {
			t.Errorf("two parallels %g degrees apart: n %v, rho0 %v; one: %v, %v", apart, l.n, l.rho0, want.n, want.rho0)
		}
		x, err := l.Forward(orb.Point{0.001, 40})
		if y, also := a.Forward(orb.Point{0.001, 40}); err != nil || also != nil || !(dist(x, y) < 1e-6) {
			t.Errorf("85 m along their one parallel: %v by Lambert, %v by Albers: %v, %v", x, y, err, also)
		}
	}
}

func dist(a, b orb.Point) float64 { return max(a[0]-b[0], b[0]-a[0]) + max(a[1]-b[1], b[1]-a[1]) }

// TestDegreesWithoutAUnit: a definition without a unit of angle uses degrees, for its parameters
// too. The same in radians, with the unit given, is the same place.
func TestDegreesWithoutAUnit(t *testing.T) {
	wkt := func(unit string, lon0 string) string {
		return `PROJCS["x",GEOGCS["y",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0]` + unit + `],PROJECTION["Transverse_Mercator"],` +
			`PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",` + lon0 + `],PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],PARAMETER["false_northing",0]]`
	}
	for _, text := range []string{wkt("", "-117"), wkt(`,UNIT["radian",1]`, "-2.0420352248333655")} {
		c, err := ParseCRS(text)
		if err != nil {
			t.Fatal(err)
		}
		want, err := ParseCRS("EPSG:32611")
		if err != nil {
			t.Fatal(err)
		}
		got, err := c.Degrees(orb.Point{420000, 3700000})
		if p, also := want.Degrees(orb.Point{420000, 3700000}); err != nil || also != nil || !(dist(got, p) < 1e-9) {
			t.Errorf("%s: %v, in zone 11: %v; %v, %v", text, got, p, err, also)
		}
	}
	c, err := ParseCRS(`GEOGCS["y",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0]]`)
	if p, also := c.Degrees(orb.Point{-117, 33}); err != nil || also != nil || p != (orb.Point{-117, 33}) {
		t.Errorf("degrees without a unit: %v, %v, %v", p, err, also)
	}
}

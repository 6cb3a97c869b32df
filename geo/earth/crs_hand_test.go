package earth

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// degreesOfWGS84 is the geographic system of WGS 84 in WKT 1.
const degreesOfWGS84 = `GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]]`

// parsed reads a definition or fails the test.
func parsed(t *testing.T, text string) CRS {
	t.Helper()
	c, err := ParseCRS(text)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return c
}

// TestUnitsOfDefinitions: the same zone in metres, feet of both kinds and chains, with its false
// easting in its own unit and parameters in degrees, grads and radians; by hand: a place 1000 m
// north of the origin, and the origin 10 degrees east of Greenwich.
func TestUnitsOfDefinitions(t *testing.T) {
	for _, c := range []struct {
		name, unit string
		metres     float64
	}{
		{"metre", `UNIT["metre",1]`, 1},
		{"foot", `UNIT["foot",0.3048]`, 0.3048},
		{"US survey foot", `UNIT["US survey foot",0.304800609601219]`, 1200.0 / 3937},
		{"chain", `UNIT["chain",20.1168]`, 20.1168},
		{"kilometre", `UNIT["kilometre",1000]`, 1000},
	} {
		text := fmt.Sprintf(`PROJCS["x",%s,PROJECTION["Transverse_Mercator"],PARAMETER["central_meridian",10],PARAMETER["scale_factor",1],PARAMETER["false_easting",%.9f],PARAMETER["false_northing",%.9f],%s]`,
			degreesOfWGS84, 500000/c.metres, 2000/c.metres, c.unit)
		crs := parsed(t, text)
		got, err := crs.Degrees(orb.Point{500000 / c.metres, 3000 / c.metres})
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name+": longitude", got[0], 10, 1e-9)
		near(t, c.name+": latitude", got[1]*110574.3, 1000, 0.01) // metres a degree at the equator
	}
	for _, c := range []struct {
		name, unit string
		perDegree  float64
	}{
		{"degree", `ANGLEUNIT["degree",0.0174532925199433]`, 1},
		{"grad", `ANGLEUNIT["grad",0.015707963267949]`, 400. / 360},
		{"radian", `ANGLEUNIT["radian",1]`, math.Pi / 180},
		{"second", `ANGLEUNIT["arc-second",4.84813681109536E-06]`, 3600},
	} {
		text := fmt.Sprintf(`PROJCRS["x",BASEGEOGCRS["WGS 84",DATUM["World Geodetic System 1984",ELLIPSOID["WGS 84",6378137,298.257223563,LENGTHUNIT["metre",1]]]],
			CONVERSION["y",METHOD["Transverse Mercator"],PARAMETER["Latitude of natural origin",%.12f,%s],PARAMETER["Longitude of natural origin",%.12f,%s],
			PARAMETER["Scale factor at natural origin",0.9996,SCALEUNIT["unity",1]],PARAMETER["False easting",500,LENGTHUNIT["kilometre",1000]],PARAMETER["False northing",7,LENGTHUNIT["metre",1]]],
			CS[Cartesian,2],AXIS["e",east],AXIS["n",north],LENGTHUNIT["metre",1]]`, 45*c.perDegree, c.unit, 10*c.perDegree, c.unit)
		got, err := parsed(t, text).Degrees(orb.Point{500000, 7})
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name+": longitude", got[0], 10, 1e-9)
		near(t, c.name+": latitude", got[1], 45, 1e-9)
	}
	// parameters without a unit have that of the base system's degrees: here grads
	text := `PROJCS["x",GEOGCS["g",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],UNIT["grad",0.015707963267949]],PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",50],PARAMETER["central_meridian",100],UNIT["metre",1]]`
	got, err := parsed(t, text).Degrees(orb.Point{0, 0})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "longitude from grads", got[0], 90, 1e-9)
	near(t, "latitude from grads", got[1], 45, 1e-9)
}

// TestDegreesInOtherUnits: a system of longitude and latitude in grads and in radians.
func TestDegreesInOtherUnits(t *testing.T) {
	for factor, perDegree := range map[string]float64{"0.015707963267949": 400. / 360, "1": math.Pi / 180, "0.0174532925199433": 1, "0.01745329251994329577": 1} {
		c := parsed(t, `GEOGCS["g",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],UNIT["x",`+factor+`]]`)
		if c.IsWGS84() != (perDegree == 1) || !c.IsGeographic() {
			t.Errorf("unit %s: is WGS 84 %v, geographic %v", factor, c.IsWGS84(), c.IsGeographic())
		}
		got, err := c.Degrees(orb.Point{30 * perDegree, -20 * perDegree})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "longitude", got[0], 30, 1e-9)
		near(t, "latitude", got[1], -20, 1e-9)
	}
}

// TestMethodNames: each name that programs use for a method gives that method's projection: its
// origin is where the parameters say, whatever their names. By hand.
func TestMethodNames(t *testing.T) {
	type set = map[string]float64
	for _, c := range []struct {
		methods    []string
		parameters set
		at         orb.Point // in the plane
		want       orb.Point // degrees
	}{
		{[]string{"Transverse_Mercator", "Gauss_Kruger", "Transverse_Mercator_Complex"}, set{"central_meridian": 9, "latitude_of_origin": 30, "scale_factor": 0.9996, "false_easting": 500}, orb.Point{500, 0}, orb.Point{9, 30}},
		{[]string{"Lambert_Conformal_Conic_2SP", "Lambert Conic Conformal (2SP)", "Lambert_Conformal_Conic"}, set{"latitude_of_origin": 40, "central_meridian": -96, "standard_parallel_1": 20, "standard_parallel_2": 60}, orb.Point{0, 0}, orb.Point{-96, 40}},
		{[]string{"Lambert_Conformal_Conic_1SP", "Lambert Conic Conformal (1SP)", "Lambert_Conformal_Conic"}, set{"latitude_of_origin": 46.5, "central_meridian": 3, "scale_factor": 0.999}, orb.Point{0, 0}, orb.Point{3, 46.5}},
		{[]string{"Albers", "Albers_Conic_Equal_Area", "Albers Equal Area"}, set{"latitude_of_center": 23, "longitude_of_center": -96, "standard_parallel_1": 29.5, "standard_parallel_2": 45.5}, orb.Point{0, 0}, orb.Point{-96, 23}},
		{[]string{"Mercator_1SP", "Mercator (variant A)"}, set{"central_meridian": 110, "scale_factor": 0.997}, orb.Point{0, 0}, orb.Point{110, 0}},
		{[]string{"Mercator_2SP", "Mercator (variant B)", "Mercator"}, set{"central_meridian": 51, "standard_parallel_1": 42}, orb.Point{0, 0}, orb.Point{51, 0}},
		{[]string{"Lambert_Azimuthal_Equal_Area", "Lambert Azimuthal Equal Area"}, set{"latitude_of_center": 52, "longitude_of_center": 10, "false_easting": 4321000, "false_northing": 3210000}, orb.Point{4321000, 3210000}, orb.Point{10, 52}},
		{[]string{"Polar_Stereographic", "Polar Stereographic (variant A)", "Stereographic"}, set{"latitude_of_origin": 90, "central_meridian": -45, "scale_factor": 0.994}, orb.Point{0, 0}, orb.Point{-45, 90}},
		{[]string{"Stereographic_North_Pole", "Polar Stereographic (variant B)"}, set{"central_meridian": -45, "standard_parallel_1": 70}, orb.Point{0, 0}, orb.Point{-45, 90}},
		{[]string{"Stereographic_South_Pole", "Polar Stereographic (variant B)"}, set{"central_meridian": 70, "standard_parallel_1": -71}, orb.Point{0, 0}, orb.Point{70, -90}},
		{[]string{"Oblique_Stereographic", "Double_Stereographic"}, set{"latitude_of_origin": 52, "central_meridian": 5, "scale_factor": 0.9999}, orb.Point{0, 0}, orb.Point{5, 52}},
		{[]string{"Hotine_Oblique_Mercator_Azimuth_Center", "Hotine Oblique Mercator (variant B)", "Rectified_Skew_Orthomorphic_Center", "Oblique_Mercator"}, set{"latitude_of_center": 4, "longitude_of_center": 115, "azimuth": 53, "rectified_grid_angle": 53, "scale_factor": 0.99984}, orb.Point{0, 0}, orb.Point{115, 4}},
		{[]string{"Polyconic", "American Polyconic"}, set{"latitude_of_origin": 30, "central_meridian": -54}, orb.Point{0, 0}, orb.Point{-54, 30}},
		{[]string{"Cassini_Soldner", "Cassini"}, set{"latitude_of_origin": 3, "central_meridian": 101}, orb.Point{0, 0}, orb.Point{101, 3}},
		{[]string{"Colombia Urban", "IGAC_Plano_Cartesiano"}, set{"latitude_of_center": 4.68, "longitude_of_center": -74, "height": 2550, "false_easting": 92000}, orb.Point{92000, 0}, orb.Point{-74, 4.68}},
	} {
		for _, method := range c.methods {
			var text strings.Builder
			fmt.Fprintf(&text, `PROJCS["x",%s,PROJECTION["%s"]`, degreesOfWGS84, method)
			for name, v := range c.parameters {
				fmt.Fprintf(&text, `,PARAMETER["%s",%v]`, name, v)
			}
			text.WriteString(`,UNIT["metre",1]]`)
			got, err := parsed(t, text.String()).Degrees(c.at)
			if err != nil || math.Abs(got[1]-c.want[1]) > 1e-7 || math.Abs(c.want[1]) < 90 && math.Abs(got[0]-c.want[0]) > 1e-7 {
				t.Errorf("%s: %v, %v, want %v", method, got, err, c.want)
			}
		}
	}
}

// TestRefusedDefinitions: a definition that would give wrong positions is an error, and the message
// names the reason.
func TestRefusedDefinitions(t *testing.T) {
	projected := func(method, more string) string {
		return `PROJCS["x",` + degreesOfWGS84 + `,PROJECTION["` + method + `"],` + more + `UNIT["metre",1]]`
	}
	for _, c := range []struct{ name, text, reason string }{
		{"method", projected("Winkel_Tripel", ""), "Winkel_Tripel"},
		{"scale of a cone of two parallels", projected("Lambert_Conformal_Conic_2SP", `PARAMETER["standard_parallel_1",20],PARAMETER["standard_parallel_2",60],PARAMETER["scale_factor",0.9],`), "scale factor 0.9"},
		{"scale of a polyconic", projected("Polyconic", `PARAMETER["scale_factor",0.9],`), "scale factor 0.9"},
		{"scale of Cassini's", projected("Cassini_Soldner", `PARAMETER["scale_factor",2],`), "scale factor 2"},
		{"scale of a town", projected("Colombia Urban", `PARAMETER["scale_factor",2],`), "scale factor 2"},
		{"scale of a true parallel", projected("Mercator_2SP", `PARAMETER["standard_parallel_1",42],PARAMETER["scale_factor",2],`), "scale factor 2"},
		{"scale of a polar parallel", projected("Stereographic_North_Pole", `PARAMETER["standard_parallel_1",70],PARAMETER["scale_factor",2],`), "scale factor 2"},
		{"a parallel beside the origin", projected("Lambert_Conformal_Conic", `PARAMETER["standard_parallel_1",20],PARAMETER["latitude_of_origin",30],`), "20 is not the latitude of origin 30"},
		{"parameter of no method", projected("Transverse_Mercator", `PARAMETER["height",3],`), "height"},
		{"parameters of no method, the first by name", projected("Transverse_Mercator", `PARAMETER["zeta",3],PARAMETER["beta",3],`), "beta"},
		{"axis", projected("Transverse_Mercator", `AXIS["Y",WEST],AXIS["X",SOUTH],`), "an axis points west"},
		{"axis south", projected("Transverse_Mercator", `AXIS["X",EAST],AXIS["Y",SOUTH],`), "an axis points south"},
		{"overridden", projected("Mercator_1SP", `EXTENSION["PROJ4","+proj=merc +a=1"],`), "overridden"},
		{"unit", strings.Replace(projected("Polyconic", ""), `"metre",1`, `"metre",-1`, 1), "unit is -1"},
		{"unit without number", strings.Replace(projected("Polyconic", ""), `"metre",1`, `"metre"`, 1), "unit is NaN"},
		{"no method", `PROJCS["x",` + degreesOfWGS84 + `,UNIT["metre",1]]`, "no projection"},
		{"no base", `PROJCS["x",PROJECTION["Polyconic"],UNIT["metre",1]]`, "no geographic system"},
		{"a vertical system", `VERT_CS["x",VERT_DATUM["y",2005],UNIT["metre",1]]`, "VERT_CS"},
		{"a bound system without its source", `BOUNDCRS[TARGETCRS[` + degreesOfWGS84 + `]]`, "no source"},
		{"a datum by grid", `BOUNDCRS[SOURCECRS[` + degreesOfWGS84 + `],ABRIDGEDTRANSFORMATION["g",METHOD["NTv2"],PARAMETERFILE["file","some.gsb"]]]`, "some.gsb"},
		{"prime meridian", strings.Replace(degreesOfWGS84, `"Greenwich",0`, `"Ferro",-17.67`, 1), "-17.67"},
		{"shift of 2 m", strings.Replace(degreesOfWGS84, `563]]`, `563],TOWGS84[1,1,0,0,0,0,0]]`, 1), "up to 2 m"},
		{"turn of a tenth of a second", strings.Replace(degreesOfWGS84, `563]]`, `563],TOWGS84[0,0,0,0,0.1,0,0]]`, 1), "up to 3 m"},
		{"half a part in a million", strings.Replace(degreesOfWGS84, `563]]`, `563],TOWGS84[0,0,0,0,0,0,0.5]]`, 1), "up to 3 m"},
		{"datum", strings.Replace(degreesOfWGS84, `"WGS_1984"`, `"Potsdam"`, 1), "Potsdam"},
	} {
		got, err := ParseCRS(c.text)
		if !errors.Is(err, ErrUnsupported) || !strings.Contains(err.Error(), c.reason) {
			t.Errorf("%s: %+v, %v, want %q", c.name, got, err, c.reason)
		}
	}
	// shifts within a metre are accepted
	for _, shift := range []string{"0.5,0.5,0", "0,0,0,0.02,0,0,0", "0,0,0,0,0,0,0.1", "0,0,1,0,0,0,0"} {
		parsed(t, strings.Replace(degreesOfWGS84, `563]]`, `563],TOWGS84[`+shift+`]]`, 1))
	}
}

// TestQuotesAndBrackets: names with quotes, commas and brackets in them, white space and
// numbers in every form; by hand after OGC 18-010r7, section 6.3.
func TestQuotesAndBrackets(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"a quote", `"a ""quoted"" name"`, `a "quoted" name`},
		{"brackets", `"grid [north], (old)"`, `grid [north], (old)`},
		{"letters of any script", `"Système"`, `Système`},
		{"nothing", `""`, ``},
	} {
		text := strings.Replace(degreesOfWGS84, `"WGS 84"`, c.in, 1)
		if got := parsed(t, text); got.Name != c.want || !got.IsWGS84() {
			t.Errorf("%s: %q", c.name, got.Name)
		}
	}
	for _, text := range []string{
		strings.ReplaceAll(degreesOfWGS84, ",", " ,\r\n\t "), strings.ReplaceAll(degreesOfWGS84, "[", " [ "), strings.ReplaceAll(degreesOfWGS84, "]", " ] "),
		strings.ToLower(degreesOfWGS84), strings.Replace(degreesOfWGS84, "6378137", "6.378137E6", 1), strings.Replace(degreesOfWGS84, "6378137", "6378137.000", 1),
	} {
		if got, err := ParseCRS(text); err != nil || !got.IsWGS84() {
			t.Errorf("%v\n%s", err, text)
		}
	}
	for _, text := range []string{
		strings.Replace(degreesOfWGS84, ",DATUM", " DATUM", 1), strings.Replace(degreesOfWGS84, ",DATUM", ",,DATUM", 1) + "]", degreesOfWGS84 + "]", "[" + degreesOfWGS84, "GEOGCS", `GEOGCS["x"`, `GEOGCS["x",`, `GEOGCS["x",DATUM[`, "1" + degreesOfWGS84,
	} {
		if got, err := ParseCRS(text); !errors.Is(err, ErrUnsupported) {
			t.Errorf("read as %+v: %s", got, text)
		}
	}
}

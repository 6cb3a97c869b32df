package earth

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// scales are the scale of a projection at a place along the meridian and along the parallel, and
// the sine of the angle between the two in the plane: from differences over about a metre.
func scales(t *testing.T, p Projection, e Ellipsoid, at orb.Point) (h, k, sine float64) {
	t.Helper()
	const d = 1e-5 // degrees
	place := func(lon, lat float64) orb.Point {
		xy, err := p.Forward(orb.Point{Wrap(at[0] + lon), at[1] + lat})
		if err != nil {
			t.Fatalf("%v: %v", at, err)
		}
		return xy
	}
	n, s, east, w := place(0, d), place(0, -d), place(d, 0), place(-d, 0)
	sin, cos := sincosDegrees(at[1])
	w2 := 1 - e.E2()*sin*sin
	nu := e.A / math.Sqrt(w2)
	rho := nu * (1 - e.E2()) / w2
	nx, ny := (n[0]-s[0])/(2*rad(d)*rho), (n[1]-s[1])/(2*rad(d)*rho)
	ex, ey := (east[0]-w[0])/(2*rad(d)*nu*cos), (east[1]-w[1])/(2*rad(d)*nu*cos)
	h, k = math.Hypot(nx, ny), math.Hypot(ex, ey)
	return h, k, math.Abs(ex*ny-ey*nx) / (h * k)
}

// TestWhatProjectionsKeep: conformal projections have the same scale in both directions and keep
// right angles, equal-area ones keep areas, all over their domain: the definitions (Snyder 1987,
// section 4).
func TestWhatProjectionsKeep(t *testing.T) {
	all := projections(t)
	ellipsoids := map[string]Ellipsoid{
		"tm-clarke": clarke1866, "tm-airy-grid": airy1830, "laea-clarke": clarke1866, "laea-north-pole": GRS80, "laea-south-pole": GRS80, "albers-clarke": clarke1866,
		"albers-south": GRS80, "albers-one": GRS80, "lcc2-clarke": clarke1866, "lcc1": international1924, "merc-k": bessel1841, "omerc-a": GRS80, "omerc-across": bessel1841,
		"omerc-b": {A: 6377298.556, F: 1 / 300.8017}, "stere-oblique": bessel1841,
	}
	for name, places := range map[string][]orb.Point{
		"tm-clarke": {{-75, 10}, {-70, 40}, {-90, -60}}, "tm-airy-grid": {{-2, 50}, {1, 58}}, "utm-33": {{15, 45}, {10, 70}}, "utm-60-south": {{-179, -30}},
		"lcc2-clarke": {{-96, 23}, {-75, 35}, {-120, 60}}, "lcc2-south": {{-70, -20}, {-90, -55}}, "lcc1": {{2, 46}, {10, 55}}, "merc-k": {{110, 0}, {140, 40}, {-150, -70}},
		"merc-parallel": {{51, 42}, {60, -10}}, "omerc-a": {{-133, 57}, {-125, 50}}, "omerc-b": {{115, 4}, {110, 10}}, "omerc-south": {{150, -33}, {140, -20}}, "omerc-across": {{7, 47}, {10, 50}},
		"stere-oblique": {{5, 52}, {10, 48}}, "stere-south": {{-170, -20}, {-160, 0}}, "stere-a-north": {{30, 80}, {-100, 60}}, "stere-a-south": {{30, -80}}, "stere-b-north": {{-45, 70}, {10, 50}}, "stere-b-south": {{70, -71}, {0, -60}},
	} {
		e, other := ellipsoids[name]
		if !other {
			e = WGS84
		}
		for _, at := range places {
			h, k, sine := scales(t, all[name], e, at)
			near(t, fmt.Sprintf("%s at %v: alike both ways", name, at), h/k, 1, 1e-7)
			near(t, fmt.Sprintf("%s at %v: right angles", name, at), sine, 1, 1e-9)
		}
	}
	for name, places := range map[string][]orb.Point{
		"laea-clarke": {{-100, 40}, {-80, 20}, {-120, 70}}, "laea-south-180": {{179, -65}, {-150, -30}}, "laea-north-pole": {{10, 80}, {-100, 30}}, "laea-south-pole": {{30, -80}}, "laea-equator": {{20, 1}, {60, 40}},
		"albers-clarke": {{-96, 23}, {-75, 35}, {-130, 60}}, "albers-south": {{134, -25}, {150, -10}}, "albers-one": {{-126, 50}, {-120, 40}},
	} {
		e, other := ellipsoids[name]
		if !other {
			e = WGS84
		}
		for _, at := range places {
			h, k, sine := scales(t, all[name], e, at)
			near(t, fmt.Sprintf("%s at %v: area", name, at), h*k*sine, 1, 1e-7)
		}
	}
}

// TestScaleWhereItIsGiven: on the lines where a projection has true or a stated scale, it has; by
// the definitions.
func TestScaleWhereItIsGiven(t *testing.T) {
	all := projections(t)
	for _, c := range []struct {
		name string
		e    Ellipsoid
		at   orb.Point
		want float64 // for both, or h alone for projections true only along the meridian
	}{
		{"tm-clarke", clarke1866, orb.Point{-75, 33}, 0.9996}, {"tm-wide", WGS84, orb.Point{10, -70}, 1}, {"tm-airy-grid", airy1830, orb.Point{-2, 54}, 0.9996012717},
		{"lcc2-clarke", clarke1866, orb.Point{-80, 33}, 1}, {"lcc2-clarke", clarke1866, orb.Point{-110, 45}, 1}, {"lcc2-south", WGS84, orb.Point{-60, -60}, 1}, {"lcc1", international1924, orb.Point{9, 46.8}, 0.99987742},
		{"albers-clarke", clarke1866, orb.Point{-80, 29.5}, 1}, {"albers-clarke", clarke1866, orb.Point{-120, 45.5}, 1}, {"albers-one", GRS80, orb.Point{-120, 50}, 1},
		{"merc-k", bessel1841, orb.Point{20, 0}, 0.997}, {"merc-parallel", WGS84, orb.Point{20, 42}, 1}, {"merc-parallel", WGS84, orb.Point{20, -42}, 1},
		{"stere-b-north", WGS84, orb.Point{100, 70}, 1}, {"stere-b-south", WGS84, orb.Point{10, -71}, 1}, {"stere-oblique", bessel1841, orb.Point{5.38763888888889, 52.1561605555556}, 0.9999079},
		{"laea-clarke", clarke1866, orb.Point{-100, 40}, 1}, {"omerc-a", GRS80, orb.Point{-133.666666666667, 57}, 0.9999}, {"omerc-b", Ellipsoid{A: 6377298.556, F: 1 / 300.8017}, orb.Point{115, 4}, 0.99984},
	} {
		h, k, _ := scales(t, all[c.name], c.e, c.at)
		near(t, fmt.Sprintf("%s at %v: along the meridian", c.name, c.at), h, c.want, 2e-8)
		near(t, fmt.Sprintf("%s at %v: along the parallel", c.name, c.at), k, c.want, 2e-8)
	}
	for name, at := range map[string]orb.Point{"polyconic": {-54, 20}, "cassini": {101.389107913889, 10}} { // true along the meridian
		h, _, _ := scales(t, all[name], GRS80, at)
		near(t, name+": along the meridian", h, 1, 1e-8)
	}
	h, _, _ := scales(t, all["polyconic"], GRS80, orb.Point{-54, 40})
	_, k, _ := scales(t, all["polyconic"], GRS80, orb.Point{-40, 40}) // every parallel is true
	near(t, "polyconic: along its meridian", h, 1, 1e-8)
	near(t, "polyconic: along a parallel", k, 1, 1e-8)
}

// TestLimitsOfProjections: accepted up to the stated limit and no farther.
func TestLimitsOfProjections(t *testing.T) {
	all := projections(t)
	for _, c := range []struct {
		name    string
		in, out orb.Point
	}{
		{"tm-wide", orb.Point{10 + 79.999, 30}, orb.Point{10 + 80.001, 30}}, {"tm-wide", orb.Point{10 - 79.999, 30}, orb.Point{10 - 80.001, 30}},
		{"merc-parallel", orb.Point{0, 89.9998}, orb.Point{0, 89.99995}}, {"merc-parallel", orb.Point{0, -89.9998}, orb.Point{0, -89.99995}},
		{"polyconic", orb.Point{-54 + 59.99, 10}, orb.Point{-54 + 60.01, 10}}, {"polyconic", orb.Point{-54 - 59.99, 10}, orb.Point{-54 - 60.01, 10}},
		{"cassini", orb.Point{101.389 + 3.99, 4}, orb.Point{101.389 + 4.01, 4}}, {"cassini", orb.Point{101.389 - 3.99, 4}, orb.Point{101.389 - 4.01, 4}},
		{"town", orb.Point{-74.146 + 2.99, 4.6}, orb.Point{-74.146 + 3.01, 4.6}}, {"town", orb.Point{-74.146, 4.68 + 2.99}, orb.Point{-74.146, 4.68 + 3.01}}, {"town", orb.Point{-74.146, 4.68 - 2.99}, orb.Point{-74.146, 4.68 - 3.01}},
		{"laea-equator", orb.Point{-159.99, 0}, orb.Point{-160, 0}}, {"stere-a-north", orb.Point{0, -89.99}, orb.Point{0, -90}}, {"stere-a-south", orb.Point{0, 89.99}, orb.Point{0, 90}},
		{"lcc1", orb.Point{0, -89.99}, orb.Point{0, -90}}, {"lcc2-south", orb.Point{0, 89.99}, orb.Point{0, 90}}, {"omerc-b", orb.Point{115, 89.9}, orb.Point{115, 90}},
	} {
		if _, err := all[c.name].Forward(c.in); err != nil {
			t.Errorf("%s: %v is within: %v", c.name, c.in, err)
		}
		if xy, err := all[c.name].Forward(c.out); !errors.Is(err, ErrOutside) {
			t.Errorf("%s: %v is outside, and lies at %v, %v", c.name, c.out, xy, err)
		}
	}
	for _, c := range []struct {
		name    string
		in, out orb.Point
	}{
		{"utm-33", orb.Point{5e5, 9.9e6}, orb.Point{5e5, 1.03e7}}, {"utm-33", orb.Point{-8e6, 4e6}, orb.Point{-1.6e7, 4e6}},
		{"laea-clarke", orb.Point{1.27e7, 0}, orb.Point{1.28e7, 0}}, // twice the radius of the sphere of equal area
		{"cassini", orb.Point{4e5, 1e6}, orb.Point{6e5, 1e6}}, {"polyconic", orb.Point{8e6, 1e7}, orb.Point{1.3e7, 1e7}}, {"town", orb.Point{2e5, 2e5}, orb.Point{92000, 1e6}},
		{"albers-clarke", orb.Point{0, 5e6}, orb.Point{0, 3e7}},
	} {
		if _, err := all[c.name].Inverse(c.in); err != nil {
			t.Errorf("%s: %v is within: %v", c.name, c.in, err)
		}
		if at, err := all[c.name].Inverse(c.out); !errors.Is(err, ErrOutside) {
			t.Errorf("%s: %v is outside, and is %v, %v", c.name, c.out, at, err)
		}
	}
}

// TestFalseOrigins: a false easting and northing shift the result by as much, and change nothing
// else.
func TestFalseOrigins(t *testing.T) {
	base := Parameters{Ellipsoid: WGS84, Lat0: 40, Lon0: -100, Lat1: 30, Lat2: 50, K0: 0.9996, Azimuth: 30, Skew: 20}
	moved := base
	moved.FalseEasting, moved.FalseNorthing = 123456, -654321
	polar, polarMoved := base, moved
	polar.Lat0, polarMoved.Lat0 = 90, 90
	build := func(p, pole Parameters) map[string]Projection {
		return map[string]Projection{
			"tm": must[TransverseMercator](t)(NewTransverseMercator(p)), "albers": must[Albers](t)(NewAlbers(p)), "laea": must[LambertAzimuthal](t)(NewLambertAzimuthal(p)),
			"lcc1": must[LambertConformal](t)(NewLambertConformal1(p)), "lcc2": must[LambertConformal](t)(NewLambertConformal2(p)), "merc": must[Mercator](t)(NewMercator(p)), "merc2": must[Mercator](t)(NewMercatorParallel(p)),
			"omerc-a": must[ObliqueMercator](t)(NewObliqueMercatorA(p)), "omerc-b": must[ObliqueMercator](t)(NewObliqueMercatorB(p)), "double": must[ObliqueStereographic](t)(NewObliqueStereographic(p)),
			"polyconic": must[Polyconic](t)(NewPolyconic(p)), "cassini": must[CassiniSoldner](t)(NewCassiniSoldner(p)), "town": must[ColombiaUrban](t)(NewColombiaUrban(p)), "south": must[TransverseMercatorSouth](t)(NewTransverseMercatorSouth(p)),
			"stere-a": must[PolarStereographic](t)(NewPolarStereographicA(pole)), "stere-b": must[PolarStereographic](t)(NewPolarStereographicB(p)),
		}
	}
	plain, shifted := build(base, polar), build(moved, polarMoved)
	for name, p := range plain {
		at := orb.Point{-98.5, 41.25}
		a, errA := p.Forward(at)
		b, errB := shifted[name].Forward(at)
		if errA != nil || errB != nil {
			t.Fatal(name, errA, errB)
		}
		near(t, name+" easting", b[0]-a[0], 123456, 1e-7)
		near(t, name+" northing", b[1]-a[1], -654321, 1e-7)
		back, err := shifted[name].Inverse(b)
		if err != nil {
			t.Fatal(name, err)
		}
		near(t, name+" back", degreesOff(back, at), 0, 1e-6)
	}
}

// TestUTMOnTheEquator: the equator itself belongs to the north: northing 0, band N; just south of
// it northings start at 10 000 km.
func TestUTMOnTheEquator(t *testing.T) {
	on, err := UTMOf(orb.Point{9, 0})
	if err != nil || south(on) || on.Band != 'N' || math.Abs(float64(on.Northing)) > 1e-6 || math.Abs(float64(on.Easting)-500000) > 1e-6 || on.Zone != 32 {
		t.Errorf("%+v, %v", on, err)
	}
	below, err := UTMOf(orb.Point{9, -1e-6})
	if err != nil || !south(below) || below.Band != 'M' || math.Abs(float64(below.Northing)-1e7) > 0.2 {
		t.Errorf("%+v, %v", below, err)
	}
	for _, c := range []struct {
		at   orb.Point
		zone int
		band byte
	}{{orb.Point{-180, 10}, 1, 'P'}, {orb.Point{180, 10}, 1, 'P'}, {orb.Point{179.999, 10}, 60, 'P'}, {orb.Point{0, 71.999}, 31, 'W'}, {orb.Point{0, 84}, 31, 'X'}, {orb.Point{2.999, 60}, 31, 'V'}, {orb.Point{3, 60}, 32, 'V'}, {orb.Point{12, 60}, 33, 'V'}, {orb.Point{41.999, 75}, 37, 'X'}, {orb.Point{42, 75}, 38, 'X'}, {orb.Point{0, -80}, 31, 'C'}} {
		if got, err := UTMOf(c.at); err != nil || got.Zone != c.zone || got.Band != c.band {
			t.Errorf("%v: %d%c, %v, want %d%c", c.at, got.Zone, got.Band, err, c.zone, c.band)
		}
	}
	for _, at := range []orb.Point{{0, 84.001}, {0, -80.001}, {math.NaN(), 0}, {0, math.NaN()}} {
		if got, err := UTMOf(at); !errors.Is(err, ErrOutside) {
			t.Errorf("%v: %+v", at, got)
		}
	}
}

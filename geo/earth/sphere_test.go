package earth

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// On a sphere every projection has a textbook formula without anything of the ellipsoid: no series,
// no auxiliary latitude, no eccentricity. All formulas are from Snyder, USGS Professional Paper
// 1395 (1987), the equations "for the sphere", with R = 6371000 m.
const sphereRadius = 6371000.0

var sphere = Ellipsoid{A: sphereRadius}

// rad and sinOf take degrees.
func rad(degrees float64) float64   { return degrees * math.Pi / 180 }
func sinOf(degrees float64) float64 { return math.Sin(rad(degrees)) }
func cosOf(degrees float64) float64 { return math.Cos(rad(degrees)) }

// onSphere compares a projection with a formula at places within a number of degrees of longitude
// of its central meridian, and the inverse with the place itself.
func onSphere(t *testing.T, name string, p Projection, lon0, east, south, north float64, formula func(lam, lat float64) (x, y float64)) {
	t.Helper()
	for lat := south; lat <= north; lat += (north - south) / 9 {
		for lam := -east; lam <= east; lam += east / 5.5 {
			at := orb.Point{Wrap(lon0 + lam), lat}
			got, err := p.Forward(at)
			if err != nil {
				t.Fatalf("%s, %v: %v", name, at, err)
			}
			x, y := formula(lam, lat)
			near(t, name+" x", got[0], x, 2e-7)
			near(t, name+" y", got[1], y, 2e-7)
			back, err := p.Inverse(orb.Point{x, y})
			if err != nil {
				t.Fatalf("%s, back from %v: %v", name, at, err)
			}
			near(t, name+" back", math.Hypot(longitudeDifference(at[0], back[0])*cosOf(lat), back[1]-lat), 0, 1e-10)
		}
	}
}

// Snyder, equations 7-1 and 7-2.
func TestMercatorOnSphere(t *testing.T) {
	p := must[Mercator](t)(NewMercator(Parameters{Ellipsoid: sphere, Lon0: 170, K0: 0.9, FalseEasting: 100, FalseNorthing: -200}))
	onSphere(t, "mercator", p, 170, 170, -85, 85, func(lam, lat float64) (x, y float64) {
		return 0.9*sphereRadius*rad(lam) + 100, 0.9*sphereRadius*math.Log(math.Tan(math.Pi/4+rad(lat)/2)) - 200
	})
	parallel := must[Mercator](t)(NewMercatorParallel(Parameters{Ellipsoid: sphere, Lat1: 60}))
	onSphere(t, "mercator of a parallel", parallel, 0, 170, -85, 85, func(lam, lat float64) (x, y float64) {
		return sphereRadius / 2 * rad(lam), sphereRadius / 2 * math.Log(math.Tan(math.Pi/4+rad(lat)/2))
	})
	south := must[Mercator](t)(NewMercator(Parameters{Ellipsoid: sphere, Lat0: -30, K0: 1}))
	onSphere(t, "mercator from an origin", south, 0, 90, -85, 85, func(lam, lat float64) (x, y float64) {
		return sphereRadius * rad(lam), sphereRadius * (math.Log(math.Tan(math.Pi/4+rad(lat)/2)) - math.Log(math.Tan(math.Pi/4-rad(30)/2)))
	})
}

// Snyder, equations 8-1 to 8-3.
func TestTransverseMercatorOnSphere(t *testing.T) {
	formula := func(lam, lat float64) (x, y float64) {
		b := cosOf(lat) * sinOf(lam)
		return 0.9996 * sphereRadius * math.Atanh(b), 0.9996 * sphereRadius * (math.Atan2(math.Tan(rad(lat)), cosOf(lam)) - rad(20))
	}
	p := must[TransverseMercator](t)(NewTransverseMercator(Parameters{Ellipsoid: sphere, Lat0: 20, Lon0: -75, K0: 0.9996, FalseEasting: 5e5}))
	onSphere(t, "transverse", p, -75, 60, -80, 80, func(lam, lat float64) (x, y float64) {
		x, y = formula(lam, lat)
		return x + 5e5, y
	})
	south := must[TransverseMercatorSouth](t)(NewTransverseMercatorSouth(Parameters{Ellipsoid: sphere, Lat0: 20, Lon0: -75, K0: 0.9996, FalseEasting: 30, FalseNorthing: 40}))
	onSphere(t, "transverse, counting west and south", south, -75, 40, -80, 80, func(lam, lat float64) (x, y float64) {
		x, y = formula(lam, lat)
		return 30 - x, 40 - y
	})
}

// Snyder, equations 14-1 to 14-6. If both parallels are the same, the cone is tangent (14-6: n is
// the sine of the parallel); north and south.
func TestAlbersOnSphere(t *testing.T) {
	for _, c := range []struct{ lat0, lat1, lat2 float64 }{{23, 29.5, 45.5}, {-10, -20, -40}, {40, 50, 50}, {0, 60, -20}} {
		n := (sinOf(c.lat1) + sinOf(c.lat2)) / 2
		big := cosOf(c.lat1)*cosOf(c.lat1) + 2*n*sinOf(c.lat1)
		rho := func(lat float64) float64 { return sphereRadius * math.Sqrt(big-2*n*sinOf(lat)) / n }
		p := must[Albers](t)(NewAlbers(Parameters{Ellipsoid: sphere, Lat0: c.lat0, Lon0: -96, Lat1: c.lat1, Lat2: c.lat2}))
		onSphere(t, "albers", p, -96, 170, -80, 80, func(lam, lat float64) (x, y float64) {
			return rho(lat) * math.Sin(n*rad(lam)), rho(c.lat0) - rho(lat)*math.Cos(n*rad(lam))
		})
	}
}

// Snyder, equations 15-1 to 15-4.
func TestLambertConformalOnSphere(t *testing.T) {
	half := func(lat float64) float64 { return math.Tan(math.Pi/4 + rad(lat)/2) }
	for _, c := range []struct{ lat0, lat1, lat2 float64 }{{23, 33, 45}, {-40, -30, -60}, {10, 60, -20}} {
		n := math.Log(cosOf(c.lat1)/cosOf(c.lat2)) / math.Log(half(c.lat2)/half(c.lat1))
		f := cosOf(c.lat1) * math.Pow(half(c.lat1), n) / n
		rho := func(lat float64) float64 { return sphereRadius * f / math.Pow(half(lat), n) }
		p := must[LambertConformal](t)(NewLambertConformal2(Parameters{Ellipsoid: sphere, Lat0: c.lat0, Lon0: 10, Lat1: c.lat1, Lat2: c.lat2}))
		onSphere(t, "conformal cone", p, 10, 170, -70, 80, func(lam, lat float64) (x, y float64) {
			return rho(lat) * math.Sin(n*rad(lam)), rho(c.lat0) - rho(lat)*math.Cos(n*rad(lam))
		})
	}
	// a single parallel: n is its sine
	p := must[LambertConformal](t)(NewLambertConformal1(Parameters{Ellipsoid: sphere, Lat0: 46.5, Lon0: 3, K0: 0.9999}))
	n := sinOf(46.5)
	f := cosOf(46.5) * math.Pow(half(46.5), n) / n
	rho := func(lat float64) float64 { return 0.9999 * sphereRadius * f / math.Pow(half(lat), n) }
	onSphere(t, "conformal cone of one parallel", p, 3, 170, -60, 85, func(lam, lat float64) (x, y float64) {
		return rho(lat) * math.Sin(n*rad(lam)), rho(46.5) - rho(lat)*math.Cos(n*rad(lam))
	})
}

// Snyder, equations 24-2, 22-4 and 22-5; at a pole 24-3 and 24-4.
func TestLambertAzimuthalOnSphere(t *testing.T) {
	for _, lat0 := range []float64{40, -65, 0, 90, -90} {
		p := must[LambertAzimuthal](t)(NewLambertAzimuthal(Parameters{Ellipsoid: sphere, Lat0: lat0, Lon0: -100}))
		onSphere(t, "azimuthal", p, -100, 80, -80, 80, func(lam, lat float64) (x, y float64) {
			k := math.Sqrt(2 / (1 + sinOf(lat0)*sinOf(lat) + cosOf(lat0)*cosOf(lat)*cosOf(lam)))
			return sphereRadius * k * cosOf(lat) * sinOf(lam), sphereRadius * k * (cosOf(lat0)*sinOf(lat) - sinOf(lat0)*cosOf(lat)*cosOf(lam))
		})
	}
}

// Snyder, equations 21-5 to 21-11: stereographic, polar and oblique. The double projection goes
// through a conformal sphere, which is here the sphere itself.
func TestStereographicOnSphere(t *testing.T) {
	north := must[PolarStereographic](t)(NewPolarStereographicA(Parameters{Ellipsoid: sphere, Lat0: 90, Lon0: -45, K0: 0.994}))
	onSphere(t, "about the north pole", north, -45, 170, -60, 88, func(lam, lat float64) (x, y float64) {
		rho := 2 * 0.994 * sphereRadius * math.Tan(math.Pi/4-rad(lat)/2)
		return rho * sinOf(lam), -rho * cosOf(lam)
	})
	south := must[PolarStereographic](t)(NewPolarStereographicA(Parameters{Ellipsoid: sphere, Lat0: -90, Lon0: 70, K0: 1}))
	onSphere(t, "about the south pole", south, 70, 170, -88, 60, func(lam, lat float64) (x, y float64) {
		rho := 2 * sphereRadius * math.Tan(math.Pi/4+rad(lat)/2)
		return rho * sinOf(lam), rho * cosOf(lam)
	})
	// true scale at a parallel: k0 = (1 + sin) / 2
	parallel := must[PolarStereographic](t)(NewPolarStereographicB(Parameters{Ellipsoid: sphere, Lat1: -71, Lon0: 0}))
	onSphere(t, "true at 71 S", parallel, 0, 170, -88, 60, func(lam, lat float64) (x, y float64) {
		rho := (1 + sinOf(71)) * sphereRadius * math.Tan(math.Pi/4+rad(lat)/2)
		return rho * sinOf(lam), rho * cosOf(lam)
	})
	pole := must[PolarStereographic](t)(NewPolarStereographicB(Parameters{Ellipsoid: sphere, Lat1: 90}))
	onSphere(t, "true at the pole", pole, 0, 170, -60, 88, func(lam, lat float64) (x, y float64) {
		rho := 2 * sphereRadius * math.Tan(math.Pi/4-rad(lat)/2)
		return rho * sinOf(lam), -rho * cosOf(lam)
	})
	for _, lat0 := range []float64{52, -20, 0} {
		p := must[ObliqueStereographic](t)(NewObliqueStereographic(Parameters{Ellipsoid: sphere, Lat0: lat0, Lon0: 5, K0: 0.9999}))
		onSphere(t, "oblique", p, 5, 90, -70, 70, func(lam, lat float64) (x, y float64) {
			k := 2 * 0.9999 / (1 + sinOf(lat0)*sinOf(lat) + cosOf(lat0)*cosOf(lat)*cosOf(lam))
			return sphereRadius * k * cosOf(lat) * sinOf(lam), sphereRadius * k * (cosOf(lat0)*sinOf(lat) - sinOf(lat0)*cosOf(lat)*cosOf(lam))
		})
	}
}

// Snyder, equations 18-1 to 18-5.
func TestPolyconicOnSphere(t *testing.T) {
	p := must[Polyconic](t)(NewPolyconic(Parameters{Ellipsoid: sphere, Lat0: 30, Lon0: -96}))
	onSphere(t, "polyconic", p, -96, 50, -75, 75, func(lam, lat float64) (x, y float64) {
		e := rad(lam) * sinOf(lat)
		if math.Abs(lat) < 1e-9 {
			return sphereRadius * rad(lam), -sphereRadius * rad(30)
		}
		cot := 1 / math.Tan(rad(lat))
		return sphereRadius * cot * math.Sin(e), sphereRadius * (rad(lat) - rad(30) + cot*(1-math.Cos(e)))
	})
}

// Snyder, equations 13-1 and 13-2 are exact. EPSG's method is a series in longitude; its error is
// the next term: lam^7 in x and lam^6 in y.
func TestCassiniOnSphere(t *testing.T) {
	p := must[CassiniSoldner](t)(NewCassiniSoldner(Parameters{Ellipsoid: sphere, Lat0: 10, Lon0: 101}))
	for lat := -70.0; lat <= 70; lat += 14 {
		for _, lam := range []float64{-3.5, -1, -0.1, 0, 0.5, 2} {
			got, err := p.Forward(orb.Point{101 + lam, lat})
			if err != nil {
				t.Fatal(err)
			}
			next := sphereRadius * math.Pow(rad(lam), 6)
			near(t, "x", got[0], sphereRadius*math.Asin(cosOf(lat)*sinOf(lam)), 1e-7+next*math.Abs(rad(lam)))
			near(t, "y", got[1], sphereRadius*(math.Atan2(math.Tan(rad(lat)), cosOf(lam))-rad(10)), 1e-7+next)
		}
	}
}

// Snyder, section 9, on a sphere: a cylinder along the great circle through the centre. If the
// poles of that circle are taken as poles, x is the longitude and y the isometric latitude of the
// ordinary Mercator projection; the centre is the origin of variant B. The formulas of EPSG, and
// PROJ, reduce azimuths to within 90 degrees of north: 120 counts as 60.
func TestObliqueMercatorOnSphere(t *testing.T) {
	for _, c := range []struct{ lat0, azimuth float64 }{{40, 30}, {-33, 40}, {10, 300}, {55, 323}} {
		p := must[ObliqueMercator](t)(NewObliqueMercatorB(Parameters{Ellipsoid: sphere, Lat0: c.lat0, Lon0: 20, Azimuth: c.azimuth, K0: 0.9996}))
		// the centre, the direction of the line, and the pole of the great circle as vectors
		centre := [3]float64{cosOf(c.lat0), 0, sinOf(c.lat0)}
		north, east := [3]float64{-sinOf(c.lat0), 0, cosOf(c.lat0)}, [3]float64{0, 1, 0}
		var along, pole [3]float64
		for k := range along {
			along[k] = cosOf(c.azimuth)*north[k] + sinOf(c.azimuth)*east[k]
			pole[k] = -sinOf(c.azimuth)*north[k] + cosOf(c.azimuth)*east[k] // to the right of the line
		}
		dot := func(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
		for _, at := range []orb.Point{{20, c.lat0}, {25, c.lat0 + 3}, {10, c.lat0 - 8}, {32, c.lat0 - 2}, {20, c.lat0 + 12}} {
			lam, lat := at[0]-20, at[1]
			v := [3]float64{cosOf(lat) * cosOf(lam), cosOf(lat) * sinOf(lam), sinOf(lat)}
			u := 0.9996 * sphereRadius * math.Atan2(dot(v, along), dot(v, centre))
			w := 0.9996 * sphereRadius * math.Atanh(dot(v, pole))
			got, err := p.Forward(at)
			if err != nil {
				t.Fatal(err)
			}
			// without skew the grid is aligned with the line: u up, v to the right
			near(t, "across", got[0], w, 1e-6)
			near(t, "along", got[1], u, 1e-6)
			back, err := p.Inverse(got)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "back", math.Hypot(back[0]-at[0], back[1]-at[1]), 0, 1e-10)
		}
	}
}

// EPSG Guidance Note 7-2, Colombia Urban, on a sphere: the scale increases by the height divided by
// the radius, and parallels curve by tan / 2R.
func TestColombiaUrbanOnSphere(t *testing.T) {
	const height = 2550
	p := must[ColombiaUrban](t)(NewColombiaUrban(Parameters{Ellipsoid: sphere, Lat0: 4.68, Lon0: -74.1, Height0: height, FalseEasting: 92334, FalseNorthing: 109320}))
	for _, at := range []orb.Point{{-74.1, 4.68}, {-74.3, 4.6}, {-73.9, 5}, {-74, 4.2}} {
		across := sphereRadius * rad(at[0]+74.1) * cosOf(at[1])
		grow := 1 + height/sphereRadius
		got, err := p.Forward(at)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "x", got[0], 92334+grow*across, 1e-7)
		near(t, "y", got[1], 109320+grow*(sphereRadius*rad(at[1]-4.68)+across*across*math.Tan(rad(4.68))/(2*sphereRadius)), 1e-7)
	}
}

// Geodesics on a sphere are great circles: azimuths, places and areas by spherical trigonometry.
func TestGeodesicsOnSphere(t *testing.T) {
	for _, c := range []struct{ lon, lat, azimuth, arc float64 }{{0, 0, 90, 90}, {10, 30, 45, 20}, {170, -50, 100, 60}, {-20, 80, 300, 40}, {5, -10, 200, 120}} {
		q, azimuth := sphere.Direct(orb.Point{c.lon, c.lat}, c.azimuth, metersOf(sphereRadius*rad(c.arc)))
		sin := sinOf(c.lat)*cosOf(c.arc) + cosOf(c.lat)*sinOf(c.arc)*cosOf(c.azimuth)
		lon := math.Atan2(sinOf(c.azimuth)*sinOf(c.arc)*cosOf(c.lat), cosOf(c.arc)-sinOf(c.lat)*sin)
		near(t, "latitude", q[1], math.Asin(sin)/math.Pi*180, 1e-9)
		near(t, "longitude", Wrap(q[0]-c.lon), Wrap(lon/math.Pi*180), 1e-9)
		// Clairaut: the sine of the azimuth times the cosine of the latitude is constant
		near(t, "Clairaut", sinOf(azimuth)*cosOf(q[1]), sinOf(c.azimuth)*cosOf(c.lat), 1e-12)
		s, azi1, azi2 := sphere.Inverse(orb.Point{c.lon, c.lat}, q)
		near(t, "length back", float64(s), sphereRadius*rad(c.arc), 1e-6)
		near(t, "azimuth back", Wrap(azi1-c.azimuth), 0, 1e-9)
		near(t, "azimuth there", Wrap(azi2-azimuth), 0, 1e-9)
	}
	// an octant is an eighth of the sphere; the excess of a triangle is the sum of its angles less
	// pi
	g := sphere.solver()
	octant := 0.0
	for _, side := range [][2]orb.Point{{{0, 0}, {90, 0}}, {{90, 0}, {90, 90}}, {{90, 90}, {0, 0}}} {
		octant -= g.inverseArea(side[0], side[1]).area
	}
	near(t, "octant", math.Abs(math.Remainder(octant, 4*math.Pi*g.c2)), math.Pi*sphereRadius*sphereRadius/2, 1)
}

// Check of the statement on azimuths above: proj 9.1.1, +proj=omerc +lat_0=10 +lonc=20 +gamma=0
// +k=0.9996 +R=6371000, of 25 E 13 N, with +alpha=120, 60, 300 and -60.
func TestAzimuthsOfObliqueMercator(t *testing.T) {
	for azimuth, want := range map[float64]orb.Point{120: {-21785.81, 638135.72}, 60: {-21785.81, 638135.72}, 300: {564077.54, -300953.59}, -60: {564077.54, -300953.59}} {
		p := must[ObliqueMercator](t)(NewObliqueMercatorB(Parameters{Ellipsoid: sphere, Lat0: 10, Lon0: 20, Azimuth: azimuth, K0: 0.9996}))
		got, err := p.Forward(orb.Point{25, 13})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "x", got[0], want[0], 0.006)
		near(t, "y", got[1], want[1], 0.006)
	}
}

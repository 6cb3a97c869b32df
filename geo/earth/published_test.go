package earth

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// dms is an angle of degrees, minutes and seconds; below 0 by its degrees.
func dms(degrees, minutes, seconds float64) float64 {
	return math.Copysign(math.Abs(degrees)+minutes/60+seconds/3600, degrees)
}

// Published: Geoscience Australia, Geocentric Datum of Australia technical manual, the line
// from Flinders Peak to Buninyong on GRS 80, and the grid coordinates of both ends: printed to
// a millimetre and a hundredth of a second.
func TestFlindersPeakToBuninyong(t *testing.T) {
	flinders := orb.Point{dms(144, 25, 29.52440), dms(-37, 57, 3.72030)}
	buninyong := orb.Point{dms(143, 55, 35.38390), dms(-37, 39, 10.15610)}
	s, azi1, azi2 := GRS80.Inverse(flinders, buninyong)
	near(t, "length", float64(s), 54972.271, 0.001)
	near(t, "azimuth", azi1+360, dms(306, 52, 5.37), 0.01/3600)
	near(t, "azimuth back", azi2+180, dms(127, 10, 25.07), 0.01/3600)
	there, _ := GRS80.Direct(flinders, dms(306, 52, 5.37), 54972.271)
	near(t, "the other end", degreesOff(there, buninyong), 0, 0.003) // a hundredth of a second is 2.7 mm there
	for _, c := range []struct {
		zone     int
		at, want orb.Point
	}{
		{55, flinders, orb.Point{273741.297, 5796489.777}}, {54, buninyong, orb.Point{758173.797, 5828674.340}}, {55, buninyong, orb.Point{228854.052, 5828259.038}},
	} {
		grid := must[TransverseMercator](t)(NewTransverseMercator(UTMParameters(GRS80, c.zone, true)))
		got, err := grid.Forward(c.at)
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprint("easting in zone ", c.zone), got[0], c.want[0], 0.001)
		near(t, fmt.Sprint("northing in zone ", c.zone), got[1], c.want[1], 0.001)
	}
}

// Published: documentation of GeographicLib, Python, "Examples": Wellington to Salamanca, 20 000 km
// south-west from Perth, places every 1000 km from Beijing to San Francisco, and Antarctica as a
// polygon round the pole.
func TestExamplesOfGeographicLib(t *testing.T) {
	s, _, _ := WGS84.Inverse(orb.Point{174.81, -41.32}, orb.Point{-5.50, 40.96})
	near(t, "Wellington to Salamanca", float64(s), 19959679.267, 0.0005)
	perth, _ := WGS84.Direct(orb.Point{115.74, -32.06}, 225, 20000e3)
	near(t, "latitude from Perth", perth[1], 32.11195529, 5e-9)
	near(t, "longitude from Perth", Wrap(perth[0]), -63.95925278, 5e-9)

	beijing := orb.Point{116.6, 40.1}
	whole, azi1, azi2 := WGS84.Inverse(beijing, orb.Point{-122.4, 37.6})
	near(t, "Beijing to San Francisco", float64(whole), 9513998, 0.5)
	near(t, "azimuth at Beijing", azi1, 42.91642, 5e-6)
	near(t, "azimuth at San Francisco", azi2, 138.89027, 5e-6)
	for _, c := range [][4]float64{{1e6, 46.37321, 125.44903, 48.99365}, {2e6, 51.78786, 136.40751, 57.29433}, {3e6, 55.92437, 149.93825, 68.24573}} {
		q, azi := WGS84.Direct(beijing, azi1, geo.Meters(c[0]))
		near(t, "latitude on the way", q[1], c[1], 6e-6)
		near(t, "longitude on the way", q[0], c[2], 6e-6)
		near(t, "azimuth on the way", azi, c[3], 6e-6)
	}

	var antarctica orb.Ring
	for _, p := range [][2]float64{
		{-63.1, -58}, {-72.9, -74}, {-71.9, -102}, {-74.9, -102}, {-74.3, -131}, {-77.5, -163}, {-77.4, 163}, {-71.7, 172}, {-65.9, 140},
		{-65.7, 113}, {-66.6, 88}, {-66.9, 59}, {-69.8, 25}, {-70.0, -4}, {-71.0, -14}, {-77.3, -33}, {-77.9, -46}, {-74.7, -61},
	} {
		antarctica = append(antarctica, orb.Point{p[1], p[0]})
	}
	near(t, "round Antarctica", float64(Perimeter(antarctica)), 16831067.893, 0.0005)
	near(t, "area of Antarctica", float64(RingArea(antarctica)), 13662703680020.1, 0.1)
}

// Published: Snyder, USGS Professional Paper 1395 (1987), pages 266 to 267: auxiliary latitudes
// of 40 degrees on Clarke 1866: conformal 39.8085922, authalic 39.8722878, rectifying
// 39.8563451; the conformal one by a series that is cut off at e^6.
func TestSnyderAuxiliaryLatitudes(t *testing.T) {
	sin, cos := sincosDegrees(40)
	e := clarke1866.Eccentricity()
	near(t, "conformal", math.Atan(conformalTangent(sin/cos, e))*degreesPerRadian, 39.8085922, 2.5e-7)
	near(t, "back from it", math.Atan(geodeticTangent(math.Tan(rad(39.8085922)), e))*degreesPerRadian, 40, 2.5e-7)
	k := newKrueger(clarke1866)
	near(t, "rectifying", k.along(sin, cos, e)/k.radius*degreesPerRadian, 39.8563451, 5e-8)
	near(t, "of a latitude in degrees", k.meridian(clarke1866, 40), k.along(sin, cos, e), 1e-9)
}

// Published: National Geospatial-Intelligence Agency, length of a degree calculator: metres to a
// degree of latitude and of longitude on WGS 84, printed to a metre here.
func TestLengthOfADegree(t *testing.T) {
	for lat, want := range map[float64][2]float64{
		0: {110574, 111320}, 15: {110649, 107550}, 30: {110852, 96486}, 45: {111132, 78847}, 60: {111412, 55800}, 75: {111618, 28902}, 90: {111694, 0},
	} {
		for _, side := range []float64{1, -1} {
			lon, north := LocalScale(side * lat)
			near(t, fmt.Sprint("latitude at ", lat), north, want[0], 0.6)
			near(t, fmt.Sprint("longitude at ", lat), lon, want[1], 0.6)
			if math.Abs(lat) < 90 { // and what the geodesic says
				d := Distance(orb.Point{7, side * lat}, orb.Point{7.0001, side * lat})
				near(t, fmt.Sprint("geodesic at ", lat), float64(d)*1e4, lon, 0.01)
			}
		}
	}
}

// Published: the defining and derived constants: NGA.STND.0036 (WGS 84), Moritz (GRS 80), and
// EPSG's ellipsoids 7001, 7004 and 7022, polar radii to a millimetre.
func TestConstantsOfEllipsoids(t *testing.T) {
	for _, c := range []struct {
		name         string
		e            Ellipsoid
		b, e2, third float64
	}{
		{"WGS 84", WGS84, 6356752.3142, 0.00669437999014, 0.00167922038638},
		{"GRS 80", GRS80, 6356752.3141, 0.00669438002290, 0.00167922039463},
		{"Clarke 1866", clarke1866, 6356583.8, 0.00676865799761, 0.00169791568},
		{"International 1924", international1924, 6356911.946, 0.00672267002233, 0.00168634064081},
		{"Bessel 1841", bessel1841, 6356078.963, 0.00667437223180, 0.00167418480},
		{"Airy 1830", airy1830, 6356256.909, 0.00667053999999, 0.00167322025},
	} {
		near(t, c.name+" polar radius", c.e.B(), c.b, 6e-4)
		near(t, c.name+" eccentricity squared", c.e.E2(), c.e2, 6e-11)
		near(t, c.name+" third flattening", c.e.N(), c.third, 6e-10)
		near(t, c.name+" eccentricity", c.e.Eccentricity()*c.e.Eccentricity(), c.e2, 6e-11)
	}
	// Moritz: the radius of the sphere of the same area is 6371007.1810, the quarter meridian 10001965.7293
	g := newGeodesic(GRS80)
	near(t, "authalic radius", math.Sqrt(g.c2), 6371007.1810, 2e-4)
	near(t, "by the series", newAuthalic(GRS80).radius, 6371007.1810, 2e-4)
	k := newKrueger(GRS80)
	near(t, "quarter meridian", k.radius*math.Pi/2, 10001965.7293, 1e-4)
	ball := newGeodesic(Ellipsoid{A: 1000})
	near(t, "authalic radius of a ball", math.Sqrt(ball.c2), 1000, 1e-9)
}

// The short formula of Distance compared with Inverse near its limit: chords of 50 km, in every
// direction, at every latitude.
func TestDistanceAboutItsLimit(t *testing.T) {
	for lat := -89.0; lat <= 89; lat += 8.9 {
		for azimuth := 0.0; azimuth < 360; azimuth += 40 {
			for _, s := range []float64{0.001, 10, 1000, 30e3, 49.99e3, 50.01e3, 60e3} {
				p := orb.Point{179.99, lat}
				q, _ := WGS84.Direct(p, azimuth, geo.Meters(s))
				got := float64(Distance(p, orb.Point{Wrap(q[0]), q[1]}))
				near(t, fmt.Sprintf("%v m at %v towards %v", s, lat, azimuth), got, s, 3e-8)
			}
		}
	}
	if d := Distance(orb.Point{10, 20}, orb.Point{10, 20}); d != 0 {
		t.Errorf("from a place to itself: %v", d)
	}
	if d := Distance(orb.Point{math.NaN(), 20}, orb.Point{10, 20}); d == d {
		t.Errorf("from nowhere: %v", d)
	}
	line := orb.LineString{{179.9, 1}, {-179.9, 1.1}, {-179.9, 1.1}, {-179, 3}}
	sum := geo.Meters(0)
	for i := 1; i < len(line); i++ {
		sum += Distance(line[i-1], line[i])
	}
	near(t, "a line", float64(LineLength(line)), float64(sum), 1e-9)
	if LineLength(nil) != 0 || LineLength(line[:1]) != 0 {
		t.Error("lines without length have one")
	}
}

// A geodesic is the same in both directions: lengths and azimuths from the other end, mirrored
// north and south, and turned around the axis, agree; also for points almost opposite, where the
// search for the azimuth is hardest.
func TestGeodesicsMirrored(t *testing.T) {
	for _, lat1 := range []float64{-89.5, -30, -0.01, 0, 45, 89} {
		for _, lat2 := range []float64{-60, -0.02, 0, 0.3, 30, 89.9} {
			for _, lon := range []float64{0.001, 1, 89, 135, 178.9, 179.3, 179.5, 179.99} {
				p, q := orb.Point{20, lat1}, orb.Point{Wrap(20 + lon), lat2}
				s, azi1, azi2 := WGS84.Inverse(p, q)
				back, b1, b2 := WGS84.Inverse(q, p)
				name := fmt.Sprintf("%v to %v", p, q)
				near(t, name+": back", float64(back), float64(s), 3e-8)
				mirrored, m1, _ := WGS84.Inverse(orb.Point{p[0], -p[1]}, orb.Point{q[0], -q[1]})
				near(t, name+": mirrored", float64(mirrored), float64(s), 3e-8)
				turned, _, _ := WGS84.Inverse(orb.Point{Wrap(p[0] + 123), p[1]}, orb.Point{Wrap(q[0] + 123), q[1]})
				near(t, name+": turned", float64(turned), float64(s), 1e-7)
				west, w1, _ := WGS84.Inverse(p, orb.Point{Wrap(20 - lon), lat2})
				near(t, name+": westward", float64(west), float64(s), 3e-8)
				if s > 1000 && s < 19.9e6 {
					near(t, name+": azimuth back", Wrap(b1-azi2-180), 0, 1e-6)
					near(t, name+": azimuth back at the other end", Wrap(b2-azi1-180), 0, 1e-6)
					near(t, name+": azimuth mirrored", Wrap(m1+azi1-180), 0, 1e-6)
					near(t, name+": azimuth westward", Wrap(w1+azi1), 0, 1e-6)
				}
				there, _ := WGS84.Direct(p, azi1, s)
				near(t, name+": arrives", degreesOff(orb.Point{q[0] + turn(there[0]-q[0]), there[1]}, q), 0, 1e-7)
			}
		}
	}
}

// By hand: points opposite each other are half a meridian apart, over a pole. Two points on the
// equator are 179.3 degrees apart here, where the equator is still the shortest line: 179.3 degrees
// times a.
func TestOppositePoints(t *testing.T) {
	const half = 2 * 10001965.729
	for lat := -90.0; lat <= 90; lat += 15 {
		s, _, _ := WGS84.Inverse(orb.Point{-35, lat}, orb.Point{145, -lat})
		near(t, fmt.Sprint("opposite to ", lat), float64(s), half, 0.001)
	}
	s, azi1, azi2 := WGS84.Inverse(orb.Point{0, 0}, orb.Point{179.3, 0})
	near(t, "along the equator", float64(s), WGS84.A*rad(179.3), 1e-6)
	near(t, "eastward", azi1, 90, 1e-9)
	near(t, "eastward at the end", azi2, 90, 1e-9)
	// beyond that, up to the opposite point, the shortest line leaves the equator
	s, azi1, _ = WGS84.Inverse(orb.Point{0, 0}, orb.Point{179.5, 0})
	if float64(s) >= WGS84.A*rad(179.5) || math.Abs(azi1-90) < 1 {
		t.Errorf("to 179.5 E: %v m towards %v", s, azi1)
	}
}

// astroid: the root satisfies its equation, for points inside, on and outside the curve.
func TestAstroid(t *testing.T) {
	for _, x := range []float64{-2, -1, -0.5, -0.1, -1e-8, 0} {
		for _, y := range []float64{-3, -1, -0.3, -1e-3, -1e-7} {
			k := astroid(x, y)
			rest := k*k*k*k + 2*k*k*k - (x*x+y*y-1)*k*k - 2*y*y*k - y*y
			if !(k > 0) || math.Abs(rest) > 1e-13*(1+k*k*k*k) {
				t.Errorf("at %v, %v: root %v, rest %v", x, y, k, rest)
			}
		}
	}
	if k := astroid(-0.5, 0); k != 0 {
		t.Errorf("on the axis within: %v", k)
	}
	near(t, "on the axis without", astroid(-2, 0), 1, 1e-12) // k^2 + 2k - 3 = 0
}

// TestReduceArea: by hand, on a globe of 100: what is past half is the smaller side the other
// way round; a turn round a pole lacks half a globe.
func TestReduceArea(t *testing.T) {
	for _, c := range []struct{ area, turn, want float64 }{
		{10, 0, 10}, {-10, 0, -10}, {60, 0, -40}, {-60, 0, 40}, {210, 0, 10}, {20, 360, -30}, {-20, -360, 30}, {45, 360, -5}, {10, 720, 10}, {10, 1e-9, 10}, {10, 359.999999, -40},
	} {
		near(t, fmt.Sprint(c), reduceArea(c.area, c.turn, 100), c.want, 1e-12)
	}
}

// Of points nearly opposite, the azimuth that the search starts from is near the one that it finds:
// the steps that follow would mend a bad one too, later.
func TestStartNearOppositePoints(t *testing.T) {
	for _, lat := range []float64{-60, -30, -5, -1} {
		for _, north := range []float64{-0.3, -0.1, 0.05, 0.2} {
			for _, east := range []float64{-0.4, -0.2, -0.05} {
				var ip inverseProblem
				ip.canonical(wgs84Geodesic, orb.Point{0, lat}, orb.Point{180 + east, -lat + north})
				if sig12, _ := ip.start(); sig12 >= 0 {
					t.Fatalf("a long line is taken for a short one")
				}
				start := math.Atan2(ip.salp1, ip.calp1)
				ip.newton()
				near(t, fmt.Sprint("start at ", lat, north, east), start, math.Atan2(ip.salp1, ip.calp1), 0.002)
			}
		}
	}
}

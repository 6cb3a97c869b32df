package earth

import (
	"math"
	"reflect"
	"testing"

	"driftreach/geo"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Out and back, for centres to 70 degrees and positions to 500 km.
func TestFrameRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		centre := position(-70, 70).Draw(t, "centre")
		p := offset(t, centre, 500e3)
		f := NewFrame(centre)
		back := f.Inverse(f.Forward(p))
		// longitude runs on from the centre, as that of p does
		near(t, "position", degreesOff(back, p), 0, 1e-8)
		wrapped := f.Forward(orb.Point{Wrap(p[0]), p[1]})
		near(t, "wrapped longitude", float64(geo.Distance(wrapped, f.Forward(p))), 0, 1e-8)
	})
}

func TestFrameRoundTripFarNorth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		centre := position(70, 85).Draw(t, "centre")
		p := offset(t, centre, 300e3)
		f := NewFrame(centre)
		near(t, "position", degreesOff(f.Inverse(f.Forward(p)), p), 0, 1e-7)
	})
}

// Derived by hand: the bound in the doc comment. A short line at distance d from the centre, in any
// direction, compared with its geodesic length.
func TestFrameScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		centre := position(-85, 85).Draw(t, "centre")
		f := NewFrame(centre)
		d := math.Pow(10, rapid.Float64Range(1, 5.5).Draw(t, "log distance"))
		p, _ := WGS84.Direct(centre, rapid.Float64Range(-180, 180).Draw(t, "bearing"), geo.Meters(d))
		const length = 100
		q, _ := WGS84.Direct(p, rapid.Float64Range(-180, 180).Draw(t, "direction"), length)
		got := float64(geo.Distance(f.Forward(p), f.Forward(q)))
		r := (d + length) / f.radius
		near(t, "scale error", got/length-1, 0, r*r/8+0.01*r*r*r+4e-10)
	})
}

func TestFrameScaleWithinAStandAndABasin(t *testing.T) {
	for _, c := range []struct{ d, bound float64 }{{5e3, 1e-7}, {17.9e3, 1e-6}, {100e3, 1e-4}} {
		for lat := -85.0; lat <= 85; lat += 17 {
			centre := orb.Point{-179.99, lat}
			f := NewFrame(centre)
			for bearing := 0.0; bearing < 360; bearing += 20 {
				p, _ := WGS84.Direct(centre, bearing, geo.Meters(c.d))
				q, _ := WGS84.Direct(centre, bearing, geo.Meters(c.d-50))
				off := float64(geo.Distance(f.Forward(p), f.Forward(q)))/50 - 1
				near(t, "scale error", off, 0, c.bound)
			}
		}
	}
}

// Along a ray from the centre the frame is the projection of the fitted sphere: bearing kept,
// distance 2R sin(s/2R).
func TestFrameKeepsBearingAndDistanceFromCentre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		centre := position(-85, 85).Draw(t, "centre")
		f := NewFrame(centre)
		s := rapid.Float64Range(1, 18e3).Draw(t, "distance")
		azi := rapid.Float64Range(-180, 180).Draw(t, "bearing")
		p, _ := WGS84.Direct(centre, azi, geo.Meters(s))
		got := f.Forward(p)
		r := 2 * f.radius * math.Sin(s/2/f.radius)
		sin, cos := sincosDegrees(azi)
		near(t, "east", got[0], r*sin, 1e-6)
		near(t, "north", got[1], r*cos, 1e-6)
	})
}

// Area in the frame against the geodesic area: 1e-7 for rings up to 5 km across,
// with straight edges in the plane.
func TestFrameArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		centre := position(-85, 85).Draw(t, "centre")
		r := star(t, centre, math.Pow(10, rapid.Float64Range(1.5, 3.4).Draw(t, "log radius")))
		got := geo.PolygonArea(NewFrame(centre).Project(orb.MultiPolygon{{r}}))
		want := float64(RingArea(r))
		// the disc with the same outline, so that slivers are not compared with their own small area
		disc := math.Pow(float64(Perimeter(r)), 2) / 4 / math.Pi
		near(t, "area", float64(got), want, 1e-7*disc+1e-3)
	})
}

// Equal area holds far from the centre too: a ring with short edges, 300 km away.
func TestFrameAreaFarFromCentre(t *testing.T) {
	for lat := -70.0; lat <= 70; lat += 35 {
		f := NewFrame(orb.Point{20, lat})
		r := orb.Ring{}
		for i := range 360 {
			q, _ := WGS84.Direct(orb.Point{23, lat + 2}, float64(-i), 1000)
			r = append(r, q)
		}
		want := float64(RingArea(r))
		near(t, "area", float64(geo.PolygonArea(f.Project(orb.MultiPolygon{{r}})))/want, 1, 1e-9)
	}
}

func TestFrameProjectsShapes(t *testing.T) {
	f := NewFrame(orb.Point{180, -17})
	line := orb.LineString{{179.9, -17}, {-179.9, -17.1}}
	xy := f.ProjectLine(line)
	if xy[0][0] >= 0 || xy[1][0] <= 0 {
		t.Errorf("line across the antimeridian is %v", xy)
	}
	near(t, "longitude runs on", f.Inverse(xy[1])[0], 180.1, 1e-12)
	mp := orb.MultiPolygon{{{{179.9, -17}, {180.1, -17}, {180, -16.9}, {179.9, -17}}, {}}, {}}
	back := f.Unproject(f.Project(mp))
	if len(back) != 2 || len(back[0]) != 2 || len(back[0][0]) != 4 || len(back[1]) != 0 {
		t.Fatalf("shape is %v", back)
	}
	for i, p := range back[0][0] {
		near(t, "vertex", degreesOff(p, mp[0][0][i]), 0, 1e-8)
	}
	if f.Project(nil) != nil || f.ProjectLine(nil) != nil {
		t.Error("nothing is projected to something")
	}
	if f.Center() != (orb.Point{180, -17}) {
		t.Errorf("centre is %v", f.Center())
	}
}

func TestFrameBeyondItsDomain(t *testing.T) {
	f := NewFrame(orb.Point{0, 95})
	if f.Center()[1] != frameLimit {
		t.Errorf("centre is %v", f.Center())
	}
	if p := f.Inverse(orb.Point{2e7, 0}); !math.IsNaN(p[0]) || !math.IsNaN(p[1]) {
		t.Errorf("a position off the map is %v", p)
	}
	if p := f.Forward(orb.Point{math.NaN(), 1}); !math.IsNaN(p[0]) {
		t.Errorf("a position that is not a number is %v", p)
	}
}

func BenchmarkFrameForward(b *testing.B) {
	f, line := NewFrame(orb.Point{10, 50}), benchmarkRing(1000)
	for b.Loop() {
		for _, p := range line {
			sink = f.Forward(p)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1000, "ns/vertex")
}

func BenchmarkFrameInverse(b *testing.B) {
	f := NewFrame(orb.Point{10, 50})
	line := f.ProjectLine(orb.LineString(benchmarkRing(1000)))
	for b.Loop() {
		for _, p := range line {
			sink = f.Inverse(p)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1000, "ns/vertex")
}

var sink orb.Point

// A unit's side of two degrees along the parallel at 45 degrees, straight on the map, is within
// half a millimetre of every place on it.
func TestProjectStraightKeepsToTheMap(t *testing.T) {
	f := NewFrame(orb.Point{10.3, 45})
	side := orb.MultiPolygon{{orb.Ring{{9, 45}, {11, 45}, {10, 46}, {9, 45}}}}
	whole, cut := f.Project(side)[0][0], f.ProjectStraight(side, 1e-3)[0][0]
	worst, bent := 0.0, 0.0
	for x := 9.0; x < 11; x += 0.00037 {
		at := f.Forward(orb.Point{x, 45})
		nearest := math.Inf(1)
		for k := 0; k+1 < len(cut) && cut[k+1][1] < 30_000; k++ {
			d, _ := geo.SegmentDistance(at, cut[k], cut[k+1])
			nearest = min(nearest, float64(d))
		}
		d, _ := geo.SegmentDistance(at, whole[0], whole[1])
		worst, bent = max(worst, nearest), max(bent, float64(d))
	}
	if worst > 5e-4 {
		t.Errorf("%v m off", worst)
	}
	if bent < 100 {
		t.Errorf("uncut it is only %v m off: the test tests nothing", bent)
	}
	if got := f.ProjectStraight(side, 10); !reflect.DeepEqual(got, f.Project(side)) {
		t.Error("edges that are short enough were cut")
	}
}

package aquatic

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
)

// TestLakeAwayFromStreams: a stand is 60 m from a lake without a stream, and 2 km from the only
// stream. Its nearest bank is the lake's edge, but its place is on the stream. By hand.
func TestLakeAwayFromStreams(t *testing.T) {
	for place, middle := range places {
		var ring orb.Ring
		for _, xy := range []orb.Point{{-100, -100}, {100, -100}, {100, 100}, {-100, 100}, {-100, -100}} {
			p := at(middle, xy[0], xy[1])
			if middle[0] == 180 && p[0] < 0 {
				p[0] += 360
			}
			ring = append(ring, p)
		}
		lake := stream.Surface{ID: "l", Name: "Tarn", Kind: stream.Lake, Areas: orb.MultiPolygon{{ring}}}
		net, _ := stream.Connect([]stream.Centerline{centerline("a", middle, 8, orb.Point{2000, 1000}, orb.Point{2000, -1000})}, nil, []stream.Surface{lake}, flow.Options{Snap: 1})
		w := NewWater(net, DefaultSettings())
		for _, c := range []struct {
			xy   orb.Point
			away float64
			zone bool
		}{{orb.Point{-160, 10}, 50, false}, {orb.Point{-135, 10}, 25, true}, {orb.Point{0, 0}, 0, true}, {orb.Point{900, 30}, 790, false}, {orb.Point{1990, -50}, 0, true}} {
			st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), c.xy)
			got, touches := w.Judge(st, records, stand.DefaultSettings())
			if math.Abs(float64(got.WaterDistance)-c.away) > 0.01 || got.InZone != c.zone || got.Line != 0 || (len(touches) == 1) != c.zone {
				t.Errorf("%s, %v: %v m away, in the zone %v, line %d, %d touch", place, c.xy, got.WaterDistance, got.InZone, got.Line, len(touches))
			}
			// 30 m around the bank of a lake without a stream, and 34 m around the stream
			if want := math.Abs(1000 - c.xy[1]); math.Abs(float64(got.Place.Offset)-want) > 0.1 {
				t.Errorf("%s, %v: enters at %v m, want %v", place, c.xy, got.Place.Offset, want)
			}
		}
	}
}

// TestZoneOfLongStreams: a stream drawn as forty lines end to end over four degrees: along a
// parallel, along a meridian, and diagonally across both. It needs several frames. By hand, the
// area of its zone is its length times its width, plus a disc. The longitudes of a stream across
// the antimeridian continue past 180.
func TestZoneOfLongStreams(t *testing.T) {
	for name, c := range map[string]struct{ from, to orb.Point }{
		"along the equator":        {orb.Point{10.25, 0.3}, orb.Point{14.25, 0.3}},
		"down a meridian":          {orb.Point{-70.5, 48.25}, orb.Point{-70.5, 44.25}},
		"across both":              {orb.Point{20, -31}, orb.Point{23, -34}},
		"over the antimeridian":    {orb.Point{178.5, -17}, orb.Point{181.5, -17.5}},
		"a little over one square": {orb.Point{30.2, 50.1}, orb.Point{31.9, 50.15}},
	} {
		const n = 40
		place := func(i int) orb.Point {
			f := float64(i) / n
			return orb.Point{c.from[0] + f*(c.to[0]-c.from[0]), c.from[1] + f*(c.to[1]-c.from[1])}
		}
		var lines []stream.Centerline
		long := 0.0
		for i := range n {
			line := centerline(fmt.Sprint(i), orb.Point{}, 40)
			for k := range 5 { // steps of a fortieth of a degree or less
				f := float64(k) / 4
				a, b := place(i), place(i+1)
				line.Path = append(line.Path, orb.Point{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])})
			}
			long += float64(earth.LineLength(line.Path))
			for k := range line.Path {
				line.Path[k][0] = earth.Wrap(line.Path[k][0])
			}
			lines = append(lines, line)
		}
		zones := water(lines...).Dissolve(2)
		if len(zones) != 1 || len(zones[0].Geometry.Polygons()) != 1 || len(zones[0].Geometry.Polygons()[0]) != 1 || zones[0].Lines != n {
			t.Fatalf("%s: %d zones, of %d parts", name, len(zones), len(zones[0].Geometry.Polygons()))
		}
		const r = 20 + 30.0
		want := 2*r*long + math.Pi*r*r
		for _, got := range []geo.SquareMeters{zones[0].Area, earth.Area(zones[0].Geometry.Polygons())} {
			if math.Abs(float64(got)/want-1) > 1e-4 {
				t.Errorf("%s: zone of %.0f m2, want %.0f", name, got, want)
			}
		}
		box := zones[0].Geometry.Polygons().Bound()
		middle := (c.from[0] + c.to[0]) / 2
		if got := (box.Min[0] + box.Max[0]) / 2; math.Abs(earth.Wrap(got-middle)) > 0.001 || box.Max[0]-box.Min[0] > 5 {
			t.Errorf("%s: longitudes from %v to %v", name, box.Min[0], box.Max[0])
		}
	}
}

package aquatic

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
)

// widthsOff returns the largest and the least distance from the outlines of a zone to the paths.
// Each distance is measured on the ground, in a frame centred on the place itself.
func widthsOff(zone orb.MultiPolygon, paths []orb.LineString) (least, most float64) {
	least = math.Inf(1)
	for _, polygon := range zone {
		for _, ring := range polygon {
			for _, p := range ring {
				frame := earth.NewFrame(p)
				away := math.Inf(1)
				for _, path := range paths {
					if math.Abs(earth.Wrap(path[0][0]-p[0])) < 0.6 && math.Abs(path[0][1]-p[1]) < 0.6 {
						_, _, d := linear.NearestOnLine(orb.Point{}, frame.ProjectLine(path))
						away = min(away, float64(d))
					}
				}
				least, most = min(least, away), max(most, away)
			}
		}
	}
	return least, most
}

// TestOutlineOfALongZone: a river 4 km wide and the shore of a lake, each along eight degrees. The
// outline of the zone is everywhere as far from the centerline, or from the shore, as the width and
// the setback say. In a single frame the ends would be off by 6e-4 of it, some 1.2 m. By hand.
func TestOutlineOfALongZone(t *testing.T) {
	for name, c := range map[string]struct{ from, step orb.Point }{
		"along a parallel":      {orb.Point{10.25, 0.3}, orb.Point{0.1, 0}},
		"over the antimeridian": {orb.Point{176.1, -17.2}, orb.Point{0.1, 0}},
		"down a meridian":       {orb.Point{-70.55, 48.25}, orb.Point{0, -0.1}},
	} {
		var lines []stream.Centerline
		var paths []orb.LineString
		for i := range 80 {
			line := centerline(fmt.Sprint(i), orb.Point{}, 4000)
			for k := range 3 {
				along := float64(i) + float64(k)/2
				line.Path = append(line.Path, orb.Point{earth.Wrap(c.from[0] + along*c.step[0]), c.from[1] + along*c.step[1]})
			}
			lines, paths = append(lines, line), append(paths, line.Path)
		}
		const chord, rounding = 0.1, 0.01
		const off = 5e-5 * 2030
		zone := water(lines...).Dissolve(2)[0].Geometry.Polygons()
		if least, most := widthsOff(zone, paths); least < 2030-chord-rounding-off || most > 2030+chord+rounding+off {
			t.Errorf("stream %s: the outline is from %.3f to %.3f m away, want 2030", name, least, most)
		}
	}
	// a lake 2 km wide along eight degrees, and 5 km of setback
	var ring orb.Ring
	for i := range 81 {
		ring = append(ring, orb.Point{20 + 0.1*float64(i), -0.01})
	}
	for i := range 81 {
		ring = append(ring, orb.Point{28 - 0.1*float64(i), 0.01})
	}
	ring = append(ring, ring[0])
	net, _ := stream.Connect(nil, nil, []stream.Surface{{ID: "l", Name: "Tarn", Kind: stream.Lake, Areas: orb.MultiPolygon{{ring}}}}, flow.Options{Snap: 1})
	s := DefaultSettings()
	s.Setback = 5000
	var shore []orb.LineString
	for i := 1; i < len(ring); i++ {
		shore = append(shore, orb.LineString{ring[i-1], ring[i]})
	}
	if least, most := widthsOff(NewWater(net, s).Dissolve(1)[0].Geometry.Polygons(), shore); least < 5000-0.36 || most > 5000+0.36 {
		t.Errorf("lake: the outline is from %.3f to %.3f m from the shore, want 5000", least, most)
	}
}

// TestZoneOfWholeDiscs: where every disc is wholly within the zone, the area in the zone is the
// infested area itself, to the last bit. Discs of which some are across the edge of the zone are
// off by no more than the chords of those: by hand, one disc is cut in half by the edge, at 34 m.
func TestZoneOfWholeDiscs(t *testing.T) {
	const r = 6.0
	area := geo.SquareMeters(math.Pi * r * r)
	for place, middle := range places {
		w := water(centerline("a", middle, 8, orb.Point{0, 2000}, orb.Point{0, -2000}))
		var whole []orb.Point
		for i := range 60 {
			whole = append(whole, orb.Point{float64(i%5)*13 - 27.9, float64(i/5) * 13})
		}
		for n, xy := range [][]orb.Point{whole[:1], whole[4:5], whole[3:5], whole, {{0, 0}, {3, 3}, {27.9, 3}}} {
			st, records := oneStand(t, middle, area, xy...)
			got, _ := w.Judge(st, records, stand.DefaultSettings())
			if within := w.Within(st, records, stand.DefaultSettings(), nil, 30); got.Area != st.Infested || within != st.Infested {
				t.Errorf("%s, stand %d: %v m2 in the zone, %v within its setback, want all of %v", place, n, got.Area, within, st.Infested)
			}
		}
		st, records := oneStand(t, middle, area, append(slices.Clone(whole), orb.Point{34, -30})...)
		got, _ := w.Judge(st, records, stand.DefaultSettings())
		if want := 60.5 * float64(area); math.Abs(float64(got.Area)-want) > 5e-4*float64(area) {
			t.Errorf("%s: %v m2 of 60 and a half discs in the zone, want %v", place, got.Area, want)
		}
		// one more that is out of the zone changes nothing
		st, records = oneStand(t, middle, area, append(slices.Clone(whole), orb.Point{34, -30}, orb.Point{80, -30})...)
		if got, _ := w.Judge(st, records, stand.DefaultSettings()); math.Abs(float64(got.Area)-60.5*float64(area)) > 1e-3*float64(area) {
			t.Errorf("%s: %v m2 of 60 and a half discs and one outside, want %v", place, got.Area, 60.5*float64(area))
		}
	}
}

// TestSearchBesideAWideRiver: a river 3 km wide, and a stand of two discs with a radius of 10 m,
// 1200 m apart; the nearer one is 14 m from the bank, the middle of the stand 624 m. What is asked
// of the stand is looked for just far enough: to the centerline, 2124 m from the middle, for ground
// within 15 m of the bank, the zone and the strips of bank. By hand, with the parts of a circle
// beyond a chord.
func TestSearchBesideAWideRiver(t *testing.T) {
	const r = 10.0
	beyond := func(d float64) float64 { return r*r*math.Acos(d/r) - d*math.Sqrt(r*r-d*d) }
	for place, middle := range places {
		w := water(centerline("a", middle, 3000, orb.Point{0, 4000}, orb.Point{0, -4000}))
		st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*r*r), orb.Point{1524, 0}, orb.Point{2724, 0})
		got, touches := w.Judge(st, records, stand.DefaultSettings())
		if want := math.Pi*r*r - beyond(6); !got.InZone || math.Abs(float64(got.Area)-want) > 0.5 || math.Abs(float64(got.WaterDistance)-14) > 0.2 || len(touches) != 1 {
			t.Errorf("%s: %+v and %d touch, want 14 m away with %v m2", place, got, len(touches), want)
		}
		for distance, want := range map[geo.Meters]float64{13: 0, 15: beyond(9), 20: beyond(4), 30: math.Pi*r*r - beyond(6), 35: math.Pi * r * r} {
			if got := float64(w.Within(st, records, stand.DefaultSettings(), nil, distance)); math.Abs(got-want) > 0.7 {
				t.Errorf("%s: %v m2 within %v m of the bank, want %v", place, got, distance, want)
			}
		}
		left, right, _ := lengths(w.NewBanks().Of(st, records, stand.DefaultSettings(), nil))
		if math.Abs(left+right-2*r) > 0.1 || min(left, right) != 0 {
			t.Errorf("%s: along %v m of the left bank and %v of the right one, want 20 of one", place, left, right)
		}
		for x, n := range map[float64]int{1529: 1, 1531: 0} {
			if places := w.Touching([]orb.LineString{{at(middle, x, 10)}}, nil); len(places) != n {
				t.Errorf("%s: a place %v m from the centerline touches at %v", place, x, places)
			}
		}
	}
}

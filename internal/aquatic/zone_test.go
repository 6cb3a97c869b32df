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

// TestMargin: records beyond the zone but within the margin are listed, do not count as in the
// zone, and change nothing of the stand. By hand: bank at 4 m, setback 30 m, patch of radius 10 m.
func TestMargin(t *testing.T) {
	for place, middle := range places {
		for _, tt := range []struct {
			from   float64
			listed bool
			inZone bool
		}{{43.99, true, true}, {44.01, true, false}, {63.99, true, false}, {64.01, false, false}, {3000, false, false}} {
			net, _ := stream.Connect([]stream.Centerline{centerline("a", middle, 8, orb.Point{0, 2000}, orb.Point{0, -2000})}, nil, nil, flow.Options{Snap: 1})
			s := DefaultSettings()
			s.Margin = 20
			st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), orb.Point{tt.from, 0})
			got, touches := NewWater(net, s).Judge(st, records, stand.DefaultSettings())
			if got.InZone != tt.inZone || (len(touches) == 1) != tt.listed {
				t.Fatalf("%s, %g m: in zone %v, %d listed", place, tt.from, got.InZone, len(touches))
			}
			if tt.listed && (touches[0].InZone != tt.inZone || math.Abs(float64(touches[0].Bank)-(tt.from-14)) > 1e-3) {
				t.Errorf("%s, %g m: %+v", place, tt.from, touches[0])
			}
			if !tt.inZone && got.Area != 0 {
				t.Errorf("%s, %g m: %g m2 in the zone", place, tt.from, got.Area)
			}
			without, _ := water(net.Lines...).Judge(st, records, stand.DefaultSettings())
			if got != without {
				t.Errorf("%s, %g m: the margin made %+v of %+v", place, tt.from, got, without)
			}
		}
	}
}

// TestWideRiver: a river a kilometre wide. Patches on the water have a negative distance from the
// bank; the stand's distance is 0. By hand.
func TestWideRiver(t *testing.T) {
	for place, middle := range places {
		w := water(centerline("a", middle, 1000, orb.Point{0, 5000}, orb.Point{0, -5000}))
		for _, tt := range []struct{ from, bank float64 }{{0, -500}, {300, -210}, {520, 10}, {539, 29}} {
			st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), orb.Point{tt.from, 0})
			got, touches := w.Judge(st, records, stand.DefaultSettings())
			if !got.InZone || len(touches) != 1 || math.Abs(float64(touches[0].Bank)-tt.bank) > 0.01 {
				t.Fatalf("%s, %g m: %+v, %+v, want bank %g", place, tt.from, got, touches, tt.bank)
			}
			if math.Abs(float64(got.WaterDistance)-max(0, tt.bank)) > 0.01 || math.Abs(float64(got.Place.Offset)-5000) > 0.05 {
				t.Errorf("%s, %g m: %g m from the water, place %v", place, tt.from, got.WaterDistance, got.Place)
			}
		}
	}
}

// TestWideRiverBehindACreek: the creek's centerline is nearer, but the river's bank is nearer and
// decides. By hand: creek bank at 1000 - 1 - 10, river bank at 1800 - 1500 - 10.
func TestWideRiverBehindACreek(t *testing.T) {
	for place, middle := range places {
		w := water(centerline("creek", middle, 2, orb.Point{1000, 2000}, orb.Point{1000, -2000}),
			centerline("river", middle, 3000, orb.Point{-1800, 9000}, orb.Point{-1800, -9000}))
		st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), orb.Point{0, 0})
		got, touches := w.Judge(st, records, stand.DefaultSettings())
		if got.InZone || len(touches) != 0 || math.Abs(float64(got.WaterDistance)-290) > 0.05 {
			t.Errorf("%s: %+v, want 290 m", place, got)
		}
		if w.net.Lines[got.Line].ID != "river" {
			t.Errorf("%s: the nearest bank is that of %s", place, w.net.Lines[got.Line].ID)
		}
	}
}

// TestWidthByOrder: the setting for the stream order, its last entry for every higher order, the
// first for none; a recorded width takes precedence.
func TestWidthByOrder(t *testing.T) {
	middle := places["seventy north"]
	for order, want := range map[int]geo.Meters{0: 2, 1: 2, 2: 4, 3: 8, 6: 64, 7: 64, 12: 64} {
		for _, recorded := range []geo.Meters{0, 11} {
			c := centerline("a", middle, recorded, orb.Point{0, 2000}, orb.Point{0, -2000})
			c.Order = order
			w := water(c)
			width := want
			if recorded > 0 {
				width = recorded
			}
			if w.half[0] != width/2 || w.assumed[0] != (recorded == 0) || w.reach(0) != width/2+30 || w.farthest != width/2 {
				t.Errorf("order %d, recorded %g: half width %g, assumed %v", order, recorded, w.half[0], w.assumed[0])
			}
		}
	}
}

// TestManyWidths: a stream that gets wider downstream: each stretch has the zone of its own width.
// By hand: 2 r L for each stretch, half a disc at each end and, at each joint, the part of the
// wider half disc outside the narrower strip.
func TestManyWidths(t *testing.T) {
	for place, middle := range places {
		var lines []stream.Centerline
		want := 0.0
		halfDisc := func(r float64) float64 { return math.Pi * r * r / 2 }
		for i, width := range []geo.Meters{4, 20, 60, 140} {
			y := float64(2000 - 1000*i)
			lines = append(lines, centerline(fmt.Sprint("l", i), middle, width, orb.Point{0, y}, orb.Point{0, y - 1000}))
			r := 30 + float64(width)/2
			want += 2 * r * 1000
			// the wider one's half disc begins upstream of the joint, over the narrower
			// one's strip
			if i > 0 {
				before := 30 + float64(lines[i-1].BankfullWidth)/2
				want += halfDisc(r) - overlap(r, before)
			} else {
				want += halfDisc(r)
			}
		}
		want += halfDisc(100)
		zones := water(lines...).Dissolve(1)
		if len(zones) != 1 || len(zones[0].Geometry.Polygons()) != 1 || zones[0].Lines != 4 {
			t.Fatalf("%s: %+v", place, zones)
		}
		if off := math.Abs(float64(zones[0].Area)/want - 1); off > 2e-4 {
			t.Errorf("%s: %.1f m2, want %.1f", place, zones[0].Area, want)
		}
	}
}

// overlap is the area that a half disc of radius r has in common with a strip of
// half width h < r along its axis.
func overlap(r, h float64) float64 {
	return h*math.Sqrt(r*r-h*h) + r*r*math.Asin(h/r)
}

// TestDissolveLongRiver: three degrees along the equator across the antimeridian are several
// squares, one shape, and continuous longitudes. By hand: 2 r L and the discs at both ends, L = 3
// degrees of 111.3195 km; the frames' scale is within 1e-4.
func TestDissolveLongRiver(t *testing.T) {
	var lines []stream.Centerline
	for i := range 30 {
		c := centerline(fmt.Sprintf("l%02d", i), orb.Point{}, 40)
		from := 178.5 + 0.1*float64(i)
		c.Path = orb.LineString{{earth.Wrap(from), 0.5}, {earth.Wrap(from + 0.1), 0.5}}
		lines = append(lines, c)
	}
	w := water(lines...)
	var paths []orb.LineString
	for _, path := range w.net.Paths.All() {
		paths = append(paths, path)
	}
	squares := squares(paths)
	held := map[int32]bool{}
	for _, square := range squares {
		for _, e := range square {
			if held[e] {
				t.Errorf("edge %d lies in two squares", e)
			}
			held[e] = true
			if d := earth.Distance(paths[e][0], paths[square[0]][0]); d > 160e3 {
				t.Errorf("edges %d and %d of one square lie %g m apart", e, square[0], d)
			}
		}
	}
	if len(squares) < 3 || len(held) != 30 {
		t.Errorf("%d squares with %d edges", len(squares), len(held))
	}
	zones := w.Dissolve(2)
	if len(zones) != 1 || len(zones[0].Geometry.Polygons()) != 1 || zones[0].Lines != 30 {
		t.Fatalf("%d zones", len(zones))
	}
	want := 2*50*float64(earth.LineLength(orb.LineString{{178.5, 0.5}, {180, 0.5}}))*2 + math.Pi*50*50
	if math.Abs(float64(zones[0].Area)/want-1) > 2e-4 {
		t.Errorf("%.0f m2, want %.0f", zones[0].Area, want)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range zones[0].Geometry.Polygons()[0][0] {
		low, high = min(low, p[0]), max(high, p[0])
	}
	if high-low < 3 || high-low > 3.01 {
		t.Errorf("longitudes from %g to %g", low, high)
	}
}

// TestDissolveUnnamed: streams without a name form one zone, however far apart, listed before the
// named ones; the number of workers and of bodies drawn at once changes nothing.
func TestDissolveUnnamed(t *testing.T) {
	var lines []stream.Centerline
	for i, place := range []string{"equator", "seventy north", "south of the equator"} {
		c := centerline(fmt.Sprint("l", i), places[place], 10, orb.Point{0, 500}, orb.Point{0, -500})
		if i < 2 {
			c.Name = ""
		}
		lines = append(lines, c)
	}
	w := water(lines...)
	zones := w.Dissolve(1)
	if len(zones) != 2 || zones[0].WaterBody != "" || zones[1].WaterBody != "Ousel" || len(zones[0].Geometry.Polygons()) != 2 || zones[0].Lines != 2 {
		t.Fatalf("%+v", zones)
	}
	want := 2 * (2*35*1000 + math.Pi*35*35)
	if math.Abs(float64(zones[0].Area)/want-1) > 1e-4 {
		t.Errorf("%.1f m2, want %.1f", zones[0].Area, want)
	}
	if a, b := fmt.Sprint(zones), fmt.Sprint(w.Dissolve(8)); a != b {
		t.Error("8 workers make other zones")
	}
	// one water body at a time, two, and all at once
	for _, atOnce := range []int{1, 5, 1000} {
		if a, b := fmt.Sprint(zones), fmt.Sprint(w.dissolve(2, atOnce)); a != b {
			t.Errorf("other zones from %d vertices at once", atOnce)
		}
	}
	if zones := water().Dissolve(1); len(zones) != 0 {
		t.Errorf("zones without water: %v", zones)
	}
}

// TestCoastMakesNoZone: a coast is among the lines and has no zone, and a stand on it is judged by
// the river.
func TestCoastMakesNoZone(t *testing.T) {
	middle := places["on the antimeridian"]
	coast := centerline("coast", middle, 0, orb.Point{-900, 0}, orb.Point{900, 0})
	coast.FeatureType = "Coastline"
	lines, _ := stream.Check([]stream.Centerline{coast, centerline("river", middle, 10, orb.Point{0, 900}, orb.Point{0, 0})}, stream.Options{})
	w := water(lines...)
	if zones := w.Dissolve(1); len(zones) != 1 || zones[0].Lines != 1 {
		t.Errorf("%+v", zones)
	}
	st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), orb.Point{500, 0})
	if got, _ := w.Judge(st, records, stand.DefaultSettings()); got.InZone || math.Abs(float64(got.WaterDistance)-485) > 0.01 {
		t.Errorf("%+v", got)
	}
}

// stream.Check removes widths that no stream has. If one got here through a programming error, the
// zone is that of a stream without a recorded width, drawn and judged.
func TestWidthsThatCannotBe(t *testing.T) {
	for name, middle := range places {
		want := water(centerline("a", middle, 0, orb.Point{0, 0}, orb.Point{0, 900})).Dissolve(1)
		for _, width := range []float64{1e300, 3.4e38, 65535.5, math.Inf(1), math.Inf(-1), math.NaN(), -8} {
			w := water(centerline("a", middle, geo.Meters(width), orb.Point{0, 0}, orb.Point{0, 900}))
			got := w.Dissolve(1)
			if len(got) != 1 || !got[0].WidthAssumed || got[0].Area != want[0].Area {
				t.Errorf("%s, %g: %+v, want the zone of no width", name, width, got)
			}
			st, records := oneStand(t, middle, 100, orb.Point{20, 400})
			if m, _ := w.Judge(st, records, stand.DefaultSettings()); !m.InZone || !m.WidthAssumed || !(m.Area > 0 && m.Area <= 100.1) {
				t.Errorf("%s, %g: %+v", name, width, m)
			}
		}
	}
	for _, bad := range []func(*Settings, geo.Meters){
		func(s *Settings, v geo.Meters) { s.Setback = v }, func(s *Settings, v geo.Meters) { s.Margin = v },
		func(s *Settings, v geo.Meters) { s.Chord = v }, func(s *Settings, v geo.Meters) { s.WidthByOrder = []geo.Meters{2, v} },
	} {
		for _, v := range []float64{1e300, math.Inf(1), math.NaN(), -1} {
			s := DefaultSettings()
			if bad(&s, geo.Meters(v)); s.Validate() == nil {
				t.Errorf("settings with %g are taken: %+v", v, s)
			}
		}
	}
}

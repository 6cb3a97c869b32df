package aquatic

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

var places = map[string]orb.Point{
	"equator":              {20, 0},
	"south of the equator": {-60, -35.2},
	"seventy north":        {25, 70},
	"on the antimeridian":  {180, -17},
}

// at converts metres around a middle to degrees.
func at(middle orb.Point, x, y float64) orb.Point {
	p := earth.NewFrame(middle).Inverse(orb.Point{x, y})
	p[0] = earth.Wrap(p[0])
	return p
}

// centerline is a stream through metres about a middle; width 0 means not
// recorded.
func centerline(id string, middle orb.Point, width geo.Meters, xy ...orb.Point) stream.Centerline {
	nan := math.NaN()
	c := stream.Centerline{
		ID: id, Name: "Ousel", BankfullWidth: width, FlowShare: geo.Share(nan), Sequence: nan, MeanVelocity: geo.MetersPerSecond(nan),
		Drainage: geo.SquareKilometers(nan), Discharge: geo.CubicMetersPerSecond(nan), MeanDischarge: geo.CubicMetersPerSecond(nan), Slope: nan, LocalArea: geo.SquareKilometers(nan), BarrierPass: geo.Share(nan),
	}
	for _, p := range xy {
		c.Path = append(c.Path, at(middle, p[0], p[1]))
	}
	return c
}

func water(lines ...stream.Centerline) *Water {
	net, _ := stream.Connect(lines, nil, nil, flow.Options{Snap: 1})
	return NewWater(net, DefaultSettings())
}

// oneStand maps measured records at metres about a middle; all of them join.
func oneStand(t testing.TB, middle orb.Point, area geo.SquareMeters, xy ...orb.Point) (*stand.Stand, []survey.Record) {
	t.Helper()
	records := make([]survey.Record, len(xy))
	for i, p := range xy {
		records[i] = survey.Record{
			ID: fmt.Sprintf("r%03d", i), Position: at(middle, p[0], p[1]), Detected: true,
			PatchArea: area, Cover: 50, StemHeight: geo.Meters(math.NaN()),
		}
	}
	s := stand.DefaultSettings()
	s.MinPoints, s.JoinDistance = 1, 1e5
	stands, _, err := stand.Map(records, survey.Quarter{Year: 2026, Number: 3}, s, 1)
	if err != nil || len(stands) != 1 {
		t.Fatalf("%d stands, %v", len(stands), err)
	}
	return &stands[0], records
}

// A patch of radius 10 m beside a straight stream 8 m wide with a setback of
// 30 m: the zone ends 34 m from the centerline. By hand; the part of a circle
// beyond a line at distance c from its middle is r^2 acos(c/r) - c sqrt(r^2-c^2).
func TestJudgeBesideAStraightStream(t *testing.T) {
	const r = 10.0
	area := geo.SquareMeters(math.Pi * r * r)
	segment := func(c float64) float64 { return r*r*math.Acos(c/r) - c*math.Sqrt(r*r-c*c) }
	tests := []struct {
		name   string
		from   float64 // middle of the patch to the centerline
		inZone bool
		area   float64
		bank   float64
	}{
		{"on the water", 0, true, math.Pi * r * r, 0},
		{"on the bank", 10, true, math.Pi * r * r, 0},
		{"wholly within", 23.9, true, math.Pi * r * r, 9.9},
		{"mostly within", 30, true, math.Pi*r*r - segment(4), 16},
		{"half within", 34, true, math.Pi * r * r / 2, 20},
		{"barely touching", 43.999, true, segment(9.999), 29.999},
		{"just outside", 44.001, false, 0, 30.001},
		{"far upland", 5000, false, 0, 4986},
	}
	for place, middle := range places {
		for _, tt := range tests {
			t.Run(place+"/"+tt.name, func(t *testing.T) {
				w := water(centerline("a", middle, 8, orb.Point{0, 2000}, orb.Point{0, -2000}))
				st, records := oneStand(t, middle, area, orb.Point{tt.from, 3})
				got, touches := w.Judge(st, records, stand.DefaultSettings())
				if got.InZone != tt.inZone || (len(touches) == 1) != tt.inZone {
					t.Fatalf("in zone %v with %d touches, want %v", got.InZone, len(touches), tt.inZone)
				}
				// a zone drawn of chords loses at most 0.04 % of its end discs, and
				// the frame of the test bends the far ends by less than a millimetre
				if math.Abs(float64(got.Area)-tt.area) > 0.05 {
					t.Errorf("zone area %.4f m2, want %.4f", got.Area, tt.area)
				}
				if math.Abs(float64(got.WaterDistance)-tt.bank) > 2e-3*max(1, tt.bank/1000) {
					t.Errorf("water distance %.5f m, want %.5f", got.WaterDistance, tt.bank)
				}
				if math.Abs(float64(got.Place.Offset)-1997) > 0.01 {
					t.Errorf("nearest place at %.4f m, want 1997", got.Place.Offset)
				}
				for _, touch := range touches {
					if math.Abs(float64(touch.Place.Offset)-1997) > 0.01 {
						t.Errorf("fragments enter at %.4f m, want 1997", touch.Place.Offset)
					}
				}
			})
		}
	}
}

// Without a recorded width the setting by order is used, and marked as assumed.
func TestJudgeAssumedWidth(t *testing.T) {
	middle := places["equator"]
	w := water(centerline("a", middle, 0, orb.Point{0, 2000}, orb.Point{0, -2000}))
	st, records := oneStand(t, middle, 100, orb.Point{50, 0})
	got, _ := w.Judge(st, records, stand.DefaultSettings())
	want := 50 - 1 - math.Sqrt(100/math.Pi) // order 1 is 2 m wide
	if !got.WidthAssumed || math.Abs(float64(got.WaterDistance)-want) > 1e-3 {
		t.Errorf("assumed %v, water distance %.4f; want true, %.4f", got.WidthAssumed, got.WaterDistance, want)
	}
}

// Without streams every stand is upland, at infinite distance from water.
func TestJudgeWithoutStreams(t *testing.T) {
	st, records := oneStand(t, places["equator"], 100, orb.Point{0, 0})
	got, touches := water().Judge(st, records, stand.DefaultSettings())
	if got.InZone || !math.IsInf(float64(got.WaterDistance), 1) || got.Line != -1 || touches != nil {
		t.Errorf("got %+v and %v", got, touches)
	}
}

// TestJudgeAfterDropIndex: the index that was dropped is built again, and the answer is the same.
func TestJudgeAfterDropIndex(t *testing.T) {
	middle := places["equator"]
	w := water(centerline("creek", middle, 10, orb.Point{-4, 500}, orb.Point{-4, -500}))
	st, records := oneStand(t, middle, 100, orb.Point{0, 0})
	before, touches := w.Judge(st, records, stand.DefaultSettings())
	w.DropIndex()
	after, again := w.Judge(st, records, stand.DefaultSettings())
	if !before.InZone || before != after || len(touches) != 1 || len(again) != 1 || touches[0] != again[0] {
		t.Errorf("%+v %v before, %+v %v after", before, touches, after, again)
	}
}

// The bank decides: a stand belongs to the water with the nearest bank, and its fragments enter
// there, even where a creek's centerline is nearer; if it reaches both waters, to the larger.
// Distances by hand; patches of 5 m around the origin.
func TestJudgeTheBankDecides(t *testing.T) {
	creek := func(x float64) stream.Centerline {
		return centerline("creek", places["seventy north"], 2, orb.Point{x, 2000}, orb.Point{x, -2000})
	}
	river := func(x float64, width geo.Meters) stream.Centerline {
		return centerline("river", places["seventy north"], width, orb.Point{x, 2000}, orb.Point{x, -2000})
	}
	small, large := creek(3), creek(-3)
	small.Order, large.Order = 1, 3
	large.ID = "river"
	for _, c := range []struct {
		name  string
		lines []stream.Centerline
		want  string
		away  float64
	}{
		{"bank of the river nearer", []stream.Centerline{creek(40), river(-60, 80)}, "river", 60 - 40 - 5},
		{"bank of the creek nearer", []stream.Centerline{creek(25), river(-70, 80)}, "creek", 25 - 1 - 5},
		{"a river of 200 m beyond a ditch outside its zone", []stream.Centerline{creek(60), river(-111.5, 200)}, "river", 6.5},
		{"both reached, the river wider", []stream.Centerline{creek(1), river(-103, 200)}, "river", 0},
		{"both reached, one of higher order", []stream.Centerline{small, large}, "river", 0},
	} {
		w := water(c.lines...)
		st, records := oneStand(t, places["seventy north"], geo.SquareMeters(math.Pi*25), orb.Point{0, 0})
		got, touches := w.Judge(st, records, stand.DefaultSettings())
		if math.Abs(float64(got.WaterDistance)-c.away) > 1e-3 || w.net.Lines[got.Line].ID != c.want {
			t.Errorf("%s: %.4f m from %s, want %.4f m from the %s", c.name, got.WaterDistance, w.net.Lines[got.Line].ID, c.away, c.want)
		}
		if len(touches) != 1 || w.net.Lines[w.net.Net.Edges[touches[0].Place.Edge].Line].ID != c.want {
			t.Errorf("%s: fragments enter %v, want the %s", c.name, touches, c.want)
		}
		if places := w.Touching([]orb.LineString{{places["seventy north"]}}, nil); c.away > 0 && len(places) == 1 && w.net.Lines[w.net.Net.Edges[places[0].Edge].Line].ID != c.want {
			t.Errorf("%s: a work there touches %v, want the %s", c.name, places, c.want)
		}
	}
}

// Two edges of one stream are one water: fragments of a patch that reaches both enter where its
// middle is nearest, 4 m above the node, though the lower edge is wider.
func TestJudgeAlongOneWater(t *testing.T) {
	middle := places["equator"]
	w := water(centerline("above", middle, 10, orb.Point{0, 2000}, orb.Point{0, -4}), centerline("below", middle, 12, orb.Point{0, -4}, orb.Point{0, -2000}))
	st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), orb.Point{0, 0})
	_, touches := w.Judge(st, records, stand.DefaultSettings())
	if at := touches[0].Place; w.net.Lines[w.net.Net.Edges[at.Edge].Line].ID != "above" || math.Abs(float64(w.net.Net.Edges[at.Edge].Length-at.Offset)-4) > 1e-3 {
		t.Errorf("enters at %+v, want 4 m above the node", at)
	}
}

// The same where the upper edge is wider and the middle is 4 m below the node; and for three edges
// in a row, all reached by a patch of 10 m, the uppermost, where its middle is nearest, though the
// lowest is the widest.
func TestJudgeDownOneWater(t *testing.T) {
	middle := places["equator"]
	for name, test := range map[string]struct {
		lines []stream.Centerline
		want  string
		off   float64 // from the want's end or beginning to where it enters
	}{
		"two": {[]stream.Centerline{centerline("above", middle, 12, orb.Point{0, 2000}, orb.Point{0, 4}), centerline("below", middle, 10, orb.Point{0, 4}, orb.Point{0, -2000})}, "below", 4},
		"three": {[]stream.Centerline{
			centerline("above", middle, 10, orb.Point{0, 2000}, orb.Point{0, -2}), centerline("between", middle, 11, orb.Point{0, -2}, orb.Point{0, -5}), centerline("below", middle, 12, orb.Point{0, -5}, orb.Point{0, -2000}),
		}, "above", 2000},
	} {
		w := water(test.lines...)
		st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), orb.Point{0, 0})
		_, touches := w.Judge(st, records, stand.DefaultSettings())
		if at := touches[0].Place; w.net.Lines[w.net.Net.Edges[at.Edge].Line].ID != test.want || math.Abs(float64(at.Offset)-test.off) > 1e-2 {
			t.Errorf("%s: enters at %+v, want %g m down %s", name, at, test.off, test.want)
		}
	}
}

// The area from inside, crossing and outside discs equals that of the whole footprint cut with the
// whole zone; the number of workers and far lines change nothing.
func TestZoneAreaAgainstWholePolygons(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		middle := places[rapid.SampledFrom([]string{"equator", "seventy north", "on the antimeridian"}).Draw(rt, "place")]
		coordinate := rapid.Float64Range(-120, 120)
		point := rapid.Custom(func(t *rapid.T) orb.Point { return orb.Point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")} })
		path := append(rapid.SliceOfN(point, 1, 5).Draw(rt, "path"), orb.Point{150, 0})
		w := water(centerline("a", middle, 6, path...))
		if len(w.half) == 0 {
			rt.Skip("the path had no length")
		}
		st, records := oneStand(t, middle, 300, rapid.SliceOfN(point, 1, 12).Draw(rt, "points")...)
		got, _ := w.Judge(st, records, stand.DefaultSettings())

		frame := earth.NewFrame(st.Center)
		var zone []orb.MultiPolygon
		for e, path := range w.net.Paths.All() {
			zone = append(zone, shape.Buffer(orb.MultiLineString{frame.ProjectLine(path)}, w.reach(int32(e)), quadrantSegments))
		}
		want := shape.IntersectionArea(frame.Project(st.Footprint.Polygons()), shape.Union(zone, 1))
		// a disc here is a circle, there a polygon of the same area: cut by an
		// edge they differ by the width of a chord
		if math.Abs(float64(got.Area-want)) > 1e-3*float64(len(records))*300 {
			rt.Fatalf("zone area %.4f m2, whole polygons give %.4f", got.Area, want)
		}
		if got.Area > st.Infested {
			rt.Fatalf("more in the zone (%g) than there is (%g)", got.Area, st.Infested)
		}
		if !got.InZone && want > 1e-3 {
			rt.Fatalf("not in the zone but %g m2 are", want)
		}
	})
}

// The zone of a straight stream has the area 2 r L plus a disc; water bodies are sorted by name,
// each dissolved.
func TestDissolve(t *testing.T) {
	for place, middle := range places {
		t.Run(place, func(t *testing.T) {
			a := centerline("a", middle, 10, orb.Point{0, 1000}, orb.Point{0, 0})
			b := centerline("b", middle, 10, orb.Point{0, 0}, orb.Point{0, -1000})
			c := centerline("c", middle, 0, orb.Point{900, 0}, orb.Point{0, 0})
			c.Name = "Brook"
			zones := water(a, b, c).Dissolve(2)
			if len(zones) != 2 || zones[0].WaterBody != "Brook" || zones[1].WaterBody != "Ousel" {
				t.Fatalf("zones %+v", zones)
			}
			ousel := zones[1]
			r := 35.0
			want := 2*r*2000 + math.Pi*r*r
			if math.Abs(float64(ousel.Area)/want-1) > 1e-5 {
				t.Errorf("zone %.3f m2, want %.3f", ousel.Area, want)
			}
			if ousel.Lines != 2 || ousel.WidthAssumed || !zones[0].WidthAssumed || len(ousel.Geometry.Polygons()) != 1 {
				t.Errorf("lines %d, assumed %v and %v, parts %d", ousel.Lines, ousel.WidthAssumed, zones[0].WidthAssumed, len(ousel.Geometry.Polygons()))
			}
		})
	}
}

func TestSettingsValidate(t *testing.T) {
	if err := DefaultSettings().Validate(); err != nil {
		t.Errorf("defaults: %v", err)
	}
	for name, s := range map[string]Settings{
		"negative setback": {Setback: -1, WidthByOrder: []geo.Meters{2}},
		"no widths":        {Setback: 30},
		"a width of 0":     {Setback: 30, WidthByOrder: []geo.Meters{2, 0}},
	} {
		if s.Validate() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// A drawn square of 20 m, from 24 to 44 m from the centerline of a straight stream 8 m wide: the
// zone ends at 34 m, so half of it is inside. A disc of 50 m2 beside it, wholly inside, adds 50. By
// hand.
func TestZoneAreaOfADrawnPatch(t *testing.T) {
	for place, middle := range places {
		w := water(centerline("a", middle, 8, orb.Point{-500, 0}, orb.Point{500, 0}))
		_, records := oneStand(t, middle, 50, orb.Point{0, 34}, orb.Point{40, 20})
		ring := orb.Ring{at(middle, -10, 24), at(middle, 10, 24), at(middle, 10, 44), at(middle, -10, 44), at(middle, -10, 24)}
		records[0].Outline, records[0].PatchArea = orb.MultiPolygon{{ring}}, 0
		s := stand.DefaultSettings()
		s.MinPoints, s.JoinDistance = 1, 60
		stands, _, err := stand.Map(records, survey.Quarter{Year: 2026, Number: 3}, s, 1)
		if err != nil || len(stands) != 1 {
			t.Fatalf("%s: %d stands, %v", place, len(stands), err)
		}
		got, _ := w.Judge(&stands[0], records, s)
		if math.Abs(float64(got.Area)-250) > 0.5 { // the disc is drawn with chords
			t.Errorf("%s: %.3f m2 in the zone, want 250", place, got.Area)
		}
	}
}

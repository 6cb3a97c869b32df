package aquatic

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// inRings says whether a place is inside the rings, by the even-odd rule.
func inRings(polygon orb.Polygon, p orb.Point) (in bool) {
	for _, ring := range polygon {
		for i := 1; i < len(ring); i++ {
			if a, b := ring[i-1], ring[i]; (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
				in = !in
			}
		}
	}
	return in
}

// country is the water in plane metres: creeks, and in some cases a lake that no creek enters.
type country struct {
	creeks []creek
	lake   orb.Polygon
}

// away returns the distance of a place from the nearest bank, 0 on the water, and the index of its
// creek; -1 for the lake.
func (c country) away(p orb.Point) (away float64, of int) {
	away = math.Inf(1)
	for i, k := range c.creeks {
		if d, _ := k.from(p); max(0, d-k.half) < away {
			away, of = max(0, d-k.half), i
		}
	}
	if inRings(c.lake, p) {
		return 0, -1
	}
	for _, ring := range c.lake {
		if d, _ := (creek{path: ring}).from(p); d < away {
			away, of = d, -1
		}
	}
	return away, of
}

// drawCountry draws creeks that do not cross and, in two of three cases, a lake without a stream,
// sometimes with an island.
func drawCountry(dice *rand.Rand, middle orb.Point) (country, *stream.Network) {
	for {
		creeks, lines := drawCreeks(dice, middle)
		c := country{creeks: creeks}
		var surfaces []stream.Surface
		if dice.IntN(3) > 0 {
			at := orb.Point{300 * (dice.Float64() - 0.5), 300 * (dice.Float64() - 0.5)}
			c.lake = orb.Polygon{star(dice, at, 30, 90)}
			if dice.IntN(2) == 0 {
				c.lake = append(c.lake, star(dice, at, 8, 12))
				slices.Reverse(c.lake[1])
			}
			surfaces = []stream.Surface{{ID: "l", Name: "Tarn", Kind: stream.Lake, Areas: orb.MultiPolygon{degreesOf(middle, c.lake)}}}
		}
		if crossing(creeks) || c.crossed() {
			continue
		}
		net, _ := stream.Connect(lines, nil, surfaces, flow.Options{Snap: 1})
		return c, net
	}
}

// crossed says whether a creek touches the lake.
func (c country) crossed() bool {
	for _, k := range c.creeks {
		for i := 1; i < len(k.path); i++ {
			a, b := k.path[i-1], k.path[i]
			for f := range 500 {
				t := float64(f) / 499
				p := orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}
				if d, of := (country{lake: c.lake}).away(p); of < 0 && d < 3 {
					return true
				}
			}
		}
	}
	return false
}

// degreesOf converts a polygon from metres around a middle to degrees.
func degreesOf(middle orb.Point, polygon orb.Polygon) (out orb.Polygon) {
	for _, ring := range polygon {
		var r orb.Ring
		for _, p := range ring {
			r = append(r, at(middle, p[0], p[1]))
		}
		out = append(out, r)
	}
	return out
}

// drawStand draws a stand about a place, of one outline or of a few discs; ground says what is in it.
func drawStand(t *testing.T, dice *rand.Rand, middle, at orb.Point, drawn bool) (st *stand.Stand, records []survey.Record, ground func(orb.Point) bool) {
	r := 4 + 8*dice.Float64()
	if drawn {
		outline := orb.Polygon{star(dice, at, 15, 60)}
		st, records = drawnStand(t, middle, outline)
		return st, records, func(p orb.Point) bool { return inRings(outline, p) }
	}
	var discs []orb.Point
	for range 1 + dice.IntN(5) {
		discs = append(discs, orb.Point{at[0] + 70*(dice.Float64()-0.5), at[1] + 70*(dice.Float64()-0.5)})
	}
	st, records = oneStand(t, middle, geo.SquareMeters(math.Pi*r*r), discs...)
	return st, records, func(p orb.Point) bool {
		return slices.ContainsFunc(discs, func(m orb.Point) bool { return math.Hypot(m[0]-p[0], m[1]-p[1]) <= r })
	}
}

// eachSquare calls do with the middle of each square of a grid in a box.
func eachSquare(box orb.Bound, side float64, do func(orb.Point)) {
	for x := box.Min[0] + side/2; x < box.Max[0]; x += side {
		for y := box.Min[1] + side/2; y < box.Max[1]; y += side {
			do(orb.Point{x, y})
		}
	}
}

// zoneInBox returns the area of the zone that is drawn in a box around a place, and the area of the
// grid squares within 30 m of the water.
func zoneInBox(w *Water, c country, middle orb.Point, box orb.Bound, side float64) (got, want float64) {
	frame := orb.Polygon{{box.Min, {box.Max[0], box.Min[1]}, box.Max, {box.Min[0], box.Max[1]}, box.Min}}
	eachSquare(box, side, func(p orb.Point) {
		if away, _ := c.away(p); away <= 30 {
			want += side * side
		}
	})
	return float64(shape.IntersectionArea(w.Around(middle, box), orb.MultiPolygon{frame})), want
}

// TestStandsOnAGrid: the area of stands within the zone and within other distances of the bank,
// their distance to the water, the nearest line, and the zone around each stand. The model measures
// the distance of every grid square of a stand from creeks and lake. Stands are discs or one drawn
// outline.
func TestStandsOnAGrid(t *testing.T) {
	dice := rand.New(rand.NewPCG(21, 4))
	middle := places["south of the equator"]
	wet, dry, cut := 0, 0, 0
	cases := 80
	if testing.Short() {
		cases = 48
	}
	for n := range cases {
		c, net := drawCountry(dice, middle)
		w := NewWater(net, DefaultSettings())
		at := orb.Point{250 * (dice.Float64() - 0.5), 250 * (dice.Float64() - 0.5)}
		st, records, ground := drawStand(t, dice, middle, at, n%2 == 0)
		box := orb.Bound{Min: orb.Point{at[0] - 65, at[1] - 65}, Max: orb.Point{at[0] + 65, at[1] + 65}}
		const side = 0.5
		var far []float64 // by square of the stand: its distance from the bank
		least, all := math.Inf(1), 0
		eachSquare(box, side, func(p orb.Point) {
			if ground(p) {
				away, _ := c.away(p)
				far, least = append(far, away), min(least, away)
				all++
			}
		})
		within := func(d float64) (area float64) {
			for _, away := range far {
				if away <= d {
					area += side * side
				}
			}
			return area
		}
		judged, _ := w.Judge(st, records, stand.DefaultSettings())
		if math.Abs(float64(judged.WaterDistance)-least) > 1.5*side {
			t.Fatalf("stand %d: %v m to the water, the grid has %v", n, judged.WaterDistance, least)
		}
		for _, d := range []float64{30, 0, 7, 50} {
			area := w.Within(st, records, stand.DefaultSettings(), nil, geo.Meters(d))
			rest := w.Within(st, records, stand.DefaultSettings(), st.Footprint.Polygons(), geo.Meters(d))
			if d == 30 && (judged.Area != area || judged.InZone != (area > 0)) {
				t.Fatalf("stand %d: %v m2 in the zone, %v, and %v within its setback", n, judged.Area, judged.InZone, area)
			}
			want := within(d)
			if math.Abs(float64(area)-want) > 12+0.004*want || math.Abs(float64(rest-area)) > 0.5+0.002*want {
				t.Fatalf("stand %d: %v m2 within %v m, by its footprint %v, the grid has %v", n, area, d, rest, want)
			}
			switch whole := float64(all) * side * side; {
			case want == 0:
				dry++
			case want < whole:
				cut++
			default:
				wet++
			}
		}
		if n%4 > 1 {
			continue
		}
		about := orb.Bound{Min: orb.Point{-40 - 30*dice.Float64(), -50}, Max: orb.Point{60, 70 * dice.Float64()}}
		got, want := zoneInBox(w, c, middle, about, side)
		if math.Abs(got-want) > 60+0.003*want {
			t.Fatalf("stand %d: %v m2 of zone in a box, the grid has %v", n, got, want)
		}
	}
	if wet < 20 || dry < 20 || cut < 20 {
		t.Errorf("%d wholly within a distance, %d out of it, %d across it: too few", wet, dry, cut)
	}
}

// TestPlacesOfDrawnPatches: the fragments of a drawn patch enter the stream whose bank is nearest
// to the outline, at the point of that stream nearest to the position of the record; in plane
// metres.
func TestPlacesOfDrawnPatches(t *testing.T) {
	dice := rand.New(rand.NewPCG(2, 9))
	middle := places["south of the equator"]
	for n := 0; n < 60; {
		creeks, lines := drawCreeks(dice, middle)
		if crossing(creeks) {
			continue
		}
		polygon := orb.Polygon{star(dice, orb.Point{150 * (dice.Float64() - 0.5), 150 * (dice.Float64() - 0.5)}, 5, 30)}
		aways := make([]float64, len(creeks)) // by creek: distance of the outline from its bank; no outline covers a creek from bank to bank
		own := 0
		for i, c := range creeks {
			aways[i] = math.Inf(1)
			for k := 1; k < len(c.path); k++ {
				for f := range 401 {
					s := float64(f) / 400
					a, b := c.path[k-1], c.path[k]
					p := orb.Point{a[0] + s*(b[0]-a[0]), a[1] + s*(b[1]-a[1])}
					d, _ := creek{path: polygon[0]}.from(p)
					if inRings(polygon, p) {
						d = 0
					}
					aways[i] = min(aways[i], d-c.half)
				}
			}
			if max(0, aways[i]) < max(0, aways[own]) {
				own = i
			}
		}
		unclear := aways[own] > 29
		for i, away := range aways {
			unclear = unclear || i != own && max(0, away)-max(0, aways[own]) < 1
		}
		if unclear {
			continue
		}
		n++
		net := connected(lines)
		st, records := drawnStand(t, middle, polygon)
		_, touches := NewWater(net, DefaultSettings()).Judge(st, records, stand.DefaultSettings())
		_, down := creeks[own].from(polygon[0][0])
		if len(touches) != 1 || net.Lines[net.Net.Edges[touches[0].Place.Edge].Line].ID != fmt.Sprint("c", own) ||
			math.Abs(float64(touches[0].Place.Offset)-down) > 0.05 || math.Abs(float64(touches[0].Bank)-aways[own]) > 0.5 {
			t.Fatalf("case %d: %+v, want %v m down c%d, %v m from the bank", n, touches, down, own, aways[own])
		}
	}
}

// TestTwoStreamsThroughALake: two streams, 200 m apart, run side by side through a lake 400 m wide.
// A patch on the lake belongs to the stream with the nearer centerline. By hand.
func TestTwoStreamsThroughALake(t *testing.T) {
	middle := places["south of the equator"]
	lake := orb.Polygon{{{-200, -200}, {200, -200}, {200, 200}, {-200, 200}, {-200, -200}}}
	net, _ := stream.Connect([]stream.Centerline{
		centerline("east", middle, 8, orb.Point{100, 1000}, orb.Point{100, -1000}), centerline("west", middle, 8, orb.Point{-100, 1000}, orb.Point{-100, -1000}),
	}, nil, []stream.Surface{{ID: "l", Kind: stream.Lake, Areas: orb.MultiPolygon{degreesOf(middle, lake)}}}, flow.Options{Snap: 1})
	w := NewWater(net, DefaultSettings())
	for x, want := range map[float64]string{-180: "west", -110: "west", -5: "west", 5: "east", 110: "east", 205: "east", -205: "west"} {
		st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*4), orb.Point{x, 30})
		got, _ := w.Judge(st, records, stand.DefaultSettings())
		if id := net.Lines[got.Line].ID; id != want || !got.InZone || math.Abs(float64(got.Place.Offset)-170) > 0.05 {
			t.Errorf("at %v m: %s at %+v, want %s at 170 m on the lake", x, id, got.Place, want)
		}
		if places := w.Touching([]orb.LineString{{at(middle, x, 30)}}, nil); len(places) != 1 || net.Lines[net.Net.Edges[places[0].Edge].Line].ID != want {
			t.Errorf("at %v m: a work enters at %v, want %s", x, places, want)
		}
	}
	// a lake without a name belongs to the water body of its first stream, and so do all streams
	// through it
	if zones := w.Dissolve(1); len(zones) != 1 || zones[0].WaterBody != "Ousel" || zones[0].Lines != 2 {
		t.Errorf("%d zones, the first %q of %d lines", len(zones), zones[0].WaterBody, zones[0].Lines)
	}
	if got, _ := water().Judge(&stand.Stand{}, nil, stand.DefaultSettings()); got.Place.Edge != -1 {
		t.Errorf("without streams a stand has the place %+v", got.Place)
	}
}

// TestShoreOfAnIsland: a lake 400 m square with an island 100 m square in it. A patch of radius 10
// m on the island's shore covers 20 m of that shore and of no other. A patch drawn over the whole
// island covers 400 m. By hand.
func TestShoreOfAnIsland(t *testing.T) {
	middle := places["south of the equator"]
	lake := orb.Polygon{{{-200, -200}, {200, -200}, {200, 200}, {-200, 200}, {-200, -200}}, {{-50, -50}, {-50, 50}, {50, 50}, {50, -50}, {-50, -50}}}
	net, _ := stream.Connect([]stream.Centerline{centerline("a", middle, 8, orb.Point{-100, 1000}, orb.Point{-100, -1000})}, nil,
		[]stream.Surface{{ID: "l", Name: "Tarn", Kind: stream.Lake, Areas: orb.MultiPolygon{degreesOf(middle, lake)}}}, flow.Options{Snap: 1})
	banks := NewWater(net, DefaultSettings()).NewBanks()
	st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), orb.Point{45, 20})
	for _, s := range banks.Of(st, records, stand.DefaultSettings(), nil) {
		// measured from the island's south-western corner: up the west side, along the north, and 30
		// m down the east side to the middle of the patch
		if s.Shore != 1 || math.Abs(float64(s.From)-220) > 0.05 || math.Abs(float64(s.To)-240) > 0.05 {
			t.Errorf("on the island's shore: %+v", s)
		}
		path := banks.Path(s)
		if from, to := at(middle, 50, 30), at(middle, 50, 10); math.Hypot(path[0][0]-from[0], path[0][1]-from[1]) > 1e-6 || math.Hypot(path[len(path)-1][0]-to[0], path[len(path)-1][1]-to[1]) > 1e-6 {
			t.Errorf("drawn at %v", path)
		}
	}
	st, records = drawnStand(t, middle, orb.Polygon{{{-60, -60}, {60, -60}, {60, 60}, {-60, 60}, {-60, -60}}})
	strips := banks.Of(st, records, stand.DefaultSettings(), nil)
	if _, _, shore := lengths(strips); math.Abs(shore-400) > 2 || slices.ContainsFunc(strips, func(s Strip) bool { return s.Shore != 1 }) {
		t.Errorf("over the island: %.1f m of shore, want 400", shore)
	}
}

// TestFineOutlines: a circle of radius 50 m over a stream casts a strip of about 100 m on each
// bank, whether it is drawn with 2500 corners or with 200. By hand.
func TestFineOutlines(t *testing.T) {
	middle := places["equator"]
	banks := water(centerline("a", middle, 8, orb.Point{0, 500}, orb.Point{0, -500})).NewBanks()
	for _, corners := range []int{200, 2500} {
		var ring orb.Ring
		for i := range corners {
			a := 2 * math.Pi * float64(i) / float64(corners)
			ring = append(ring, orb.Point{7 + 50*math.Cos(a), 50 * math.Sin(a)})
		}
		st, records := drawnStand(t, middle, orb.Polygon{append(ring, ring[0])})
		left, right, _ := lengths(banks.Of(st, records, stand.DefaultSettings(), nil))
		if want := 2 * math.Sqrt(50*50-7*7); math.Abs(left-100) > 1.1 || math.Abs(right-want) > 1.5 {
			t.Errorf("%d corners: %.2f m of the left bank, %.2f of the right one, want 100 and %.2f", corners, left, right, want)
		}
	}
}

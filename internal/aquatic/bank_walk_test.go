package aquatic

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
)

// TestEachPlanar: places on a line are at most a step apart, include the ends of every segment,
// have the expected number, and come with their segment and fraction.
func TestEachPlanar(t *testing.T) {
	for _, c := range []struct {
		line orb.LineString
		step float64
		n    int
	}{
		{orb.LineString{{0, 0}, {2.5, 0}}, 1, 4}, {orb.LineString{{0, 0}, {0, -2}}, 1, 3}, {orb.LineString{{1, 1}, {4, 5}}, 2, 4},
		{orb.LineString{{0, 0}, {0.3, 0}, {0.3, 3.1}}, 1, 6}, {orb.LineString{{-3, -4}, {0, 0}, {0, 0}, {6, 8}}, 5, 5}, {orb.LineString{{7, 7}}, 1, 0}, {nil, 1, 0},
	} {
		var seen []orb.Point
		eachPlanar(c.line, c.step, func(xy orb.Point, i int, along float64) {
			a, z := c.line[i], c.line[i+1]
			if on := (orb.Point{a[0] + along*(z[0]-a[0]), a[1] + along*(z[1]-a[1])}); math.Hypot(on[0]-xy[0], on[1]-xy[1]) > 1e-12 {
				t.Errorf("%v: %v is told as %v of segment %d", c.line, xy, along, i)
			}
			seen = append(seen, xy)
		})
		if len(seen) != c.n {
			t.Errorf("%v in steps of %v: %d places, want %d: %v", c.line, c.step, len(seen), c.n, seen)
		}
		for i := 1; i < len(seen); i++ {
			if d := math.Hypot(seen[i][0]-seen[i-1][0], seen[i][1]-seen[i-1][1]); d > c.step+1e-12 {
				t.Errorf("%v: %v m between places, a step is %v", c.line, d, c.step)
			}
		}
		if n := len(seen); n > 0 && (seen[0] != c.line[0] || seen[n-1] != c.line[len(c.line)-1]) {
			t.Errorf("%v: from %v to %v", c.line, seen[0], seen[n-1])
		}
	}
}

// pond is a square lake with the given half side and middle, on a stream from north to south.
func pond(middle orb.Point, half float64) *Banks {
	ring := orb.Ring{}
	for _, xy := range []orb.Point{{-half, -half}, {half, -half}, {half, half}, {-half, half}, {-half, -half}} {
		ring = append(ring, at(middle, xy[0], xy[1]))
	}
	lake := stream.Surface{ID: "l", Name: "Tarn", Kind: stream.Lake, Areas: orb.MultiPolygon{{ring}}}
	net, _ := stream.Connect([]stream.Centerline{centerline("a", middle, 8, orb.Point{0, 1000}, orb.Point{0, -1000})}, nil, []stream.Surface{lake}, flow.Options{Snap: 1})
	return NewWater(net, DefaultSettings()).NewBanks()
}

// TestShoreInsideAnOutline: the part of the shore of a square lake of 400 m inside a drawn
// rectangle, by hand. The edge of the rectangle also counts on the shore, within the setback of 30
// m. A rectangle of 200 by 100 m over the middle of the east shore has 100 m of it inside; its two
// ends, at right angles to the shore, count where they meet it.
func TestShoreInsideAnOutline(t *testing.T) {
	middle := places["south of the equator"]
	banks := pond(middle, 200)
	box := func(x0, y0, x1, y1 float64) orb.Polygon {
		return orb.Polygon{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}}
	}
	for _, c := range []struct {
		name  string
		drawn orb.Polygon
		want  float64
	}{
		{"over the east shore", box(150, 20, 300, 120), 100}, {"over the south shore", box(50, -260, 130, -140), 80},
		{"over a corner", box(150, 150, 300, 300), 100}, {"over the whole west shore", box(-300, -250, -150, 250), 400 + 2*50},
		{"far out on the land", box(260, 20, 300, 120), 0},
	} {
		st, records := drawnStand(t, middle, c.drawn)
		strips := banks.Of(st, records, stand.DefaultSettings(), nil)
		if _, _, shore := lengths(strips); math.Abs(shore-c.want) > 3 {
			t.Errorf("%s: %.1f m of shore, want %v", c.name, shore, c.want)
		}
		for _, s := range strips {
			if s.From < 0 || s.To > 1600.5 || s.To <= s.From {
				t.Errorf("%s: strip %v of a shore of 1600 m", c.name, s)
			}
		}
	}
}

// TestStripsAroundAPond: a strip on the shore of a pond of 80 m, by hand: one that extends past the
// start of the shore continues at its end, and one as long as the shore is the whole shore, once.
func TestStripsAroundAPond(t *testing.T) {
	banks := pond(places["south of the equator"], 10)
	whole := geo.Meters(banks.around[0][len(banks.around[0])-1])
	if math.Abs(float64(whole)-80) > 0.01 {
		t.Fatalf("a shore of %v m", whole)
	}
	for _, c := range []struct{ from, to, want geo.Meters }{
		{5, 12, 7}, {-5, 7, 12}, {76, 83, 7}, {0, whole, whole}, {-50, 50, whole}, {79, 160, whole}, {whole, whole + 1, 1}, {-1, 0, 1}, {3, 3, 0},
	} {
		walk := caster{Banks: banks}
		walk.between(spot{Edge: -1, Shore: 0}, c.from, c.to)
		_, _, shore := lengths(walk.strips)
		sum := geo.Meters(0)
		for _, s := range walk.strips {
			sum += s.To - s.From
		}
		if math.Abs(shore-float64(c.want)) > 1e-6 || math.Abs(float64(sum-c.want)) > 1e-6 {
			t.Errorf("from %v to %v: %v m, each metre once %v, want %v: %v", c.from, c.to, sum, shore, c.want, walk.strips)
		}
	}
}

// TestWidthsNearNothing: a recorded width is used however narrow, and then not marked as assumed;
// the widths by order double from one order to the next.
func TestWidthsNearNothing(t *testing.T) {
	middle := places["mid north"]
	for _, width := range []geo.Meters{0.01, 0.3, 0.999, 1, 1.5} {
		c := centerline("a", middle, width, orb.Point{0, 2000}, orb.Point{0, -2000})
		if w := water(c); w.assumed[0] || w.half[0] != width/2 {
			t.Errorf("recorded %v m: half %v, assumed %v", width, w.half[0], w.assumed[0])
		}
	}
	by := DefaultSettings().WidthByOrder
	for i := range by[1:] {
		if by[i+1] != 2*by[i] {
			t.Errorf("order %d is %v m wide, the order before %v", i+2, by[i+1], by[i])
		}
	}
}

// TestWideStands: a stand of patches in a row of 600 m, or of one drawn rectangle as long, of which
// only the far end reaches the zone of a stream: it is found, whichever way the row runs.
func TestWideStands(t *testing.T) {
	for place, middle := range places {
		for _, turned := range []bool{false, true} {
			turn := func(x, y float64) orb.Point {
				if turned {
					return orb.Point{y, x}
				}
				return orb.Point{x, y}
			}
			w := water(centerline("a", middle, 8, turn(330, 500), turn(330, -500)))
			var row []orb.Point
			for x := -300.0; x <= 300; x += 50 {
				row = append(row, turn(x, 0))
			}
			// radius 10: the last reaches to 310, and the zone begins at 330 - 34 = 296
			st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), row...)
			got, touches := w.Judge(st, records, stand.DefaultSettings())
			if !got.InZone || len(touches) != 1 || math.Abs(float64(got.WaterDistance)-16) > 0.01 {
				t.Errorf("%s, turned %v: %d of the row touch, in the zone %v, %v m from the bank", place, turned, len(touches), got.InZone, got.WaterDistance)
			}
			a, b := turn(-300, -5), turn(300, 5)
			st, records = drawnStand(t, middle, orb.Polygon{{a, {b[0], a[1]}, b, {a[0], b[1]}, a}})
			got, touches = w.Judge(st, records, stand.DefaultSettings())
			if want := 4 * 10.0; !got.InZone || len(touches) != 1 || math.Abs(float64(got.Area)-want) > 0.1 || math.Abs(float64(got.WaterDistance)-26) > 0.01 {
				t.Errorf("%s, turned %v: drawn, %v m2 in the zone, %v m from the bank, want %v and 26", place, turned, got.Area, got.WaterDistance, want)
			}
		}
	}
}

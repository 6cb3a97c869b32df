package aquatic

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// TestTouching: a straight stream 8 m wide, 1 km long from (0, 500) down to (0, -500), in metres at
// places all over the earth; the zone ends 34 m from its centerline. Places by hand, good to 5 cm:
// 800 m along the parallel of 70 degrees are up to 800^2 tan(70) / 8R = 3.4 cm off the straight
// line.
func TestTouching(t *testing.T) {
	for name, middle := range places {
		w := water(centerline("a", middle, 8, orb.Point{0, 500}, orb.Point{0, -500}))
		degrees := func(xy ...orb.Point) orb.LineString {
			var path orb.LineString
			for _, p := range xy {
				q := at(middle, p[0], p[1])
				if middle[0] == 180 && q[0] < 0 {
					q[0] += 360 // longitudes of areas are continuous
				}
				path = append(path, q)
			}
			return path
		}
		square := func(x, y, half float64) orb.LineString {
			return degrees(orb.Point{x - half, y - half}, orb.Point{x + half, y - half}, orb.Point{x + half, y + half}, orb.Point{x - half, y + half}, orb.Point{x - half, y - half})
		}
		for _, c := range []struct {
			name        string
			path        orb.LineString
			area        bool
			first, last float64 // metres below the upper end; NaN for no contact
		}{
			{"a point in the zone", degrees(orb.Point{33.9, 100}), false, 400, 400},
			{"a point out of the zone", degrees(orb.Point{34.1, 100}), false, math.NaN(), math.NaN()},
			{"a point on the water", degrees(orb.Point{0, 0}), false, 500, 500},
			{"a line along the bank", degrees(orb.Point{20, 300}, orb.Point{20, -300}), false, 200, 800},
			{"a line across, its ends far off", degrees(orb.Point{-400, 50}, orb.Point{400, 50}), false, 450, 450},
			{"a line that ends short of the zone", degrees(orb.Point{35, 0}, orb.Point{400, 0}), false, math.NaN(), math.NaN()},
			{"an area that holds all of the stream", square(0, 0, 2000), true, 0, 1000},
			{"an outline around it without the area", square(0, 0, 2000), false, math.NaN(), math.NaN()},
			{"an area beside it", square(500, 0, 400), true, math.NaN(), math.NaN()},
		} {
			var areas orb.MultiPolygon
			if c.area {
				areas = orb.MultiPolygon{{orb.Ring(c.path)}}
			}
			got := w.Touching([]orb.LineString{c.path}, areas)
			if math.IsNaN(c.first) {
				if len(got) > 0 {
					t.Errorf("%s, %s: touches at %v", name, c.name, got)
				}
				continue
			}
			if len(got) == 0 {
				t.Errorf("%s, %s: does not touch", name, c.name)
				continue
			}
			first, last := float64(got[0].Offset), float64(got[len(got)-1].Offset)
			if math.Abs(first-c.first) > 0.05 || math.Abs(last-c.last) > 0.05 {
				t.Errorf("%s, %s: from %g to %g m, want %g to %g", name, c.name, first, last, c.first, c.last)
			}
			for i := 1; i < len(got); i++ {
				if step := got[i].Offset - got[i-1].Offset; step > stepAlong+0.01 {
					t.Errorf("%s, %s: a step of %g m", name, c.name, float64(step))
				}
			}
		}
	}
}

// TestTouchingTakesTheNearerBank: between a creek and a wide river, the nearest centerline is the
// creek's and the nearest bank the river's. By hand: at x = 70 the creek's bank (x = 0, 2 m wide)
// is 69 m away, the river's (x = 180, 200 m wide) 10 m.
func TestTouchingTakesTheNearerBank(t *testing.T) {
	middle := orb.Point{20, 0}
	w := water(centerline("creek", middle, 2, orb.Point{0, 500}, orb.Point{0, -500}),
		centerline("river", middle, 200, orb.Point{180, 500}, orb.Point{180, -500}))
	got := w.Touching([]orb.LineString{{at(middle, 70, 0)}}, nil)
	if len(got) != 1 || w.net.Lines[w.net.Net.Edges[got[0].Edge].Line].ID != "river" {
		t.Errorf("touches %v", got)
	}
	if got := water().Touching([]orb.LineString{{middle}}, nil); got != nil {
		t.Errorf("without streams it touches %v", got)
	}
}

// TestStepsAlongAPath: a path is looked at in equal steps of 20 m or less, with each of its
// vertices, and a segment around the globe in no more than 5000. By hand: 95 m are five steps of 19
// m, then 20 m are one step, and 10 m one.
func TestStepsAlongAPath(t *testing.T) {
	middle := places["south of the equator"]
	frame := earth.NewFrame(middle)
	var got []orb.Point
	eachStep(orb.LineString{at(middle, 0, 0), at(middle, 0, 95), at(middle, 19.99, 95), at(middle, 19.99, 85)}, func(p orb.Point) { got = append(got, frame.Forward(p)) })
	want := []orb.Point{{0, 0}, {0, 19}, {0, 38}, {0, 57}, {0, 76}, {0, 95}, {19.99, 95}, {19.99, 85}}
	if len(got) != len(want) {
		t.Fatalf("%d looks, want %d: %v", len(got), len(want), got)
	}
	for i, w := range want {
		if math.Hypot(got[i][0]-w[0], got[i][1]-w[1]) > 0.01 {
			t.Errorf("look %d at %v, want %v", i, got[i], w)
		}
	}
	looks := 0
	eachStep(orb.LineString{{0, 0}, {5, 0}}, func(orb.Point) { looks++ })
	if looks != 5001 {
		t.Errorf("%d looks along 557 km, want 5001", looks)
	}
	eachStep(nil, func(orb.Point) { t.Error("a look at nothing") })
}

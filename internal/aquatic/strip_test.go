package aquatic

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// lengths adds up strips: of the left bank, the right bank and shores, each metre once.
func lengths(strips []Strip) (left, right, shore float64) {
	type bank struct {
		edge, ring int32
		side       Side
	}
	all := map[bank][]Strip{}
	for _, s := range strips {
		k := bank{s.Edge, s.Shore, s.Side}
		all[k] = append(all[k], s)
	}
	for k, own := range all {
		slices.SortFunc(own, func(a, b Strip) int { return int(math.Copysign(1, float64(a.From-b.From))) })
		end, sum := geo.Meters(math.Inf(-1)), geo.Meters(0)
		for _, s := range own {
			sum += max(0, s.To-max(s.From, end))
			end = max(end, s.To)
		}
		switch {
		case k.ring >= 0:
			shore += float64(sum)
		case k.side == Left:
			left += float64(sum)
		default:
			right += float64(sum)
		}
	}
	return left, right, shore
}

// A straight stream 8 m wide from north to south, a setback of 30 m and patches of radius 10 m, by
// hand: east is the left bank. A patch whose middle is 40 m from the centerline extends 6 m beyond
// the zone, so its chord there is 2 sqrt(10^2 - 6^2) = 16 m; a patch 6 m from the centerline gives
// 2 sqrt(10^2 - 6^2) on the far bank.
func TestStripsBesideAStraightStream(t *testing.T) {
	square := func(x0, y0, x1, y1 float64) orb.Polygon {
		return orb.Polygon{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}}
	}
	for place, middle := range places {
		net, _ := stream.Connect([]stream.Centerline{
			centerline("a", middle, 8, orb.Point{0, 1000}, orb.Point{0, 0}),
			centerline("b", middle, 8, orb.Point{0, 0}, orb.Point{0, -1000}),
		}, nil, nil, flow.Options{Snap: 1})
		banks := NewWater(net, DefaultSettings()).NewBanks()
		for _, c := range []struct {
			name        string
			xy          []orb.Point
			outline     orb.Polygon
			left, right float64
		}{
			{"one on the left bank", []orb.Point{{20, 100}}, nil, 20, 0},
			{"one on the right bank", []orb.Point{{-20, 100}}, nil, 0, 20},
			{"two side by side, one behind the other", []orb.Point{{12, 100}, {30, 105}}, nil, 25, 0},
			{"one on each bank", []orb.Point{{20, 100}, {-20, 100}}, nil, 20, 20},
			{"partly out of the zone", []orb.Point{{40, 100}}, nil, 16, 0},
			{"over the centerline", []orb.Point{{6, 100}}, nil, 20, 16},
			{"out of the zone", []orb.Point{{45, 100}}, nil, 0, 0},
			{"where one line goes on in the next", []orb.Point{{20, 4}}, nil, 20, 0},
			{"at the head of the stream", []orb.Point{{20, 1000}}, nil, 10, 0},
			{"drawn along the left bank", nil, square(10, 100, 20, 350), 250, 0},
			{"drawn over both banks, its edge far out of the zone", nil, square(-200, 100, 200, 350), 250, 250},
			{"drawn across, from the middle of the stream", nil, square(0, -50, 100, 50), 100, 0},
		} {
			var st *stand.Stand
			var records []survey.Record
			if c.outline == nil {
				st, records = oneStand(t, middle, geo.SquareMeters(math.Pi*100), c.xy...)
			} else {
				st, records = drawnStand(t, middle, c.outline)
			}
			left, right, shore := lengths(banks.Of(st, records, stand.DefaultSettings(), nil))
			tolerance := 0.02
			if c.outline != nil {
				tolerance = 1.1 // it is sampled every metre
			}
			if c.name == "drawn across, from the middle of the stream" {
				right = 0 // the centerline is its edge, which rounding may put on either side
			}
			if math.Abs(left-c.left) > tolerance || math.Abs(right-c.right) > tolerance || shore != 0 {
				t.Errorf("%s, %s: %.3f m of the left bank, %.3f of the right one, %.3f of shores, want %g and %g", place, c.name, left, right, shore, c.left, c.right)
			}
		}
		st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), orb.Point{20, 100}, orb.Point{20, 300})
		left, _, _ := lengths(banks.Of(st, records, stand.DefaultSettings(), func(record int32) bool { return record == 1 }))
		if math.Abs(left-20) > 0.02 {
			t.Errorf("%s: one of two patches counts, and they lie along %.3f m", place, left)
		}
	}
}

// drawnStand is a stand of one drawn outline, in metres about a middle.
func drawnStand(t testing.TB, middle orb.Point, outline ...orb.Polygon) (*stand.Stand, []survey.Record) {
	t.Helper()
	_, records := oneStand(t, middle, 1, orb.Point{outline[0][0][0][0], outline[0][0][0][1]})
	for _, polygon := range outline {
		var rings orb.Polygon
		for _, ring := range polygon {
			var degrees orb.Ring
			for _, xy := range ring {
				q := at(middle, xy[0], xy[1])
				if middle[0] == 180 && q[0] < 0 {
					q[0] += 360 // areas run on
				}
				degrees = append(degrees, q)
			}
			rings = append(rings, degrees)
		}
		records[0].Outline = append(records[0].Outline, rings)
	}
	s := stand.DefaultSettings()
	s.MinPoints = 1
	stands, _, err := stand.Map(records, survey.Quarter{Year: 2026, Number: 3}, s, 1)
	if err != nil || len(stands) != 1 {
		t.Fatalf("%d stands, %v", len(stands), err)
	}
	return &stands[0], records
}

// A square lake of 400 m, setback 30 m, with a patch of radius 10 m on its shore and one at its
// corner, 5 m from both sides: by hand 20 m each, since the shore bends under the second. A patch
// that covers the whole lake is on all 1600 m.
func TestStripsOnTheShoreOfALake(t *testing.T) {
	middle := places["south of the equator"]
	ring := orb.Ring{}
	for _, xy := range []orb.Point{{-200, -200}, {200, -200}, {200, 200}, {-200, 200}, {-200, -200}} {
		ring = append(ring, at(middle, xy[0], xy[1]))
	}
	lake := stream.Surface{ID: "l", Name: "Tarn", Kind: stream.Lake, Areas: orb.MultiPolygon{{ring}}}
	net, _ := stream.Connect([]stream.Centerline{centerline("a", middle, 8, orb.Point{0, 1000}, orb.Point{0, -1000})}, nil, []stream.Surface{lake}, flow.Options{Snap: 1})
	banks := NewWater(net, DefaultSettings()).NewBanks()
	for _, c := range []struct {
		name string
		at   orb.Point
		want float64
	}{{"on the shore", orb.Point{205, 50}, 20}, {"at a corner", orb.Point{-205, -200}, 20}} {
		st, records := oneStand(t, middle, geo.SquareMeters(math.Pi*100), c.at)
		left, right, shore := lengths(banks.Of(st, records, stand.DefaultSettings(), nil))
		if math.Abs(shore-c.want) > 0.05 || left+right != 0 {
			t.Errorf("%s: %.3f m of shore, %.3f of banks, want %g", c.name, shore, left+right, c.want)
		}
	}
	st, records := drawnStand(t, middle, orb.Polygon{{{-300, -300}, {300, -300}, {300, 300}, {-300, 300}, {-300, -300}}})
	if left, right, shore := lengths(banks.Of(st, records, stand.DefaultSettings(), nil)); math.Abs(shore-1600) > 3 || math.Abs(left-200) > 3 || math.Abs(right-200) > 3 {
		t.Errorf("over the whole lake: %.1f m of shore, %.1f and %.1f m of the banks outside it, want 1600, 200 and 200", shore, left, right)
	}
	if st, records = oneStand(t, middle, geo.SquareMeters(math.Pi*100), orb.Point{205, 50}); banks.Line(banks.Of(st, records, stand.DefaultSettings(), nil)[0]) != 0 {
		t.Error("the shore is not of the stream through the lake")
	}
}

// Strips, and acres within distances of the bank, compared with GEOS on bent streams, by
// scripts/oracle_water.py (shapely). There a metre of bank counts if the line across it, from the
// centerline to the setback beyond the bank, meets a patch. At a bend such lines turn with it,
// while a disc gives its own width, so the two differ by a few per cent there.
func TestStripsAsGEOSHasThem(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "water", "banks.json"))
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct {
		Line             []orb.Point
		Width, Setback   float64
		Discs            [][3]float64
		Outline          []orb.Point
		Left, Right      float64
		Distances, Areas []float64
	}
	if err := json.Unmarshal(text, &cases); err != nil {
		t.Fatal(err)
	}
	middle := places["south of the equator"]
	var sum, want float64
	for k, c := range cases {
		net, _ := stream.Connect([]stream.Centerline{centerline("a", middle, geo.Meters(c.Width), c.Line...)}, nil, nil, flow.Options{Snap: 1})
		settings := DefaultSettings()
		settings.Setback = geo.Meters(c.Setback)
		w := NewWater(net, settings)
		var st *stand.Stand
		var records []survey.Record
		if c.Outline != nil {
			st, records = drawnStand(t, middle, orb.Polygon{orb.Ring(c.Outline)})
		} else {
			var xy []orb.Point
			for _, d := range c.Discs {
				xy = append(xy, orb.Point{d[0], d[1]})
			}
			st, records = oneStand(t, middle, geo.SquareMeters(math.Pi*c.Discs[0][2]*c.Discs[0][2]), xy...)
		}
		left, right, _ := lengths(w.NewBanks().Of(st, records, stand.DefaultSettings(), nil))
		for side, got := range []float64{left, right} {
			said := []float64{c.Left, c.Right}[side]
			sum, want = sum+got, want+said
			if math.Abs(got-said) > 4+0.08*said {
				t.Errorf("case %d, side %d: %.1f m, GEOS has %.1f", k, side, got, said)
			}
		}
		for i, d := range c.Distances {
			got := float64(w.Within(st, records, stand.DefaultSettings(), nil, geo.Meters(d)))
			if math.Abs(got-c.Areas[i]) > 0.05+1e-3*c.Areas[i] {
				t.Errorf("case %d: %.3f m2 within %g m, GEOS has %.3f", k, got, d, c.Areas[i])
			}
			rest := float64(w.Within(st, records, stand.DefaultSettings(), st.Footprint.Polygons(), geo.Meters(d)))
			if math.Abs(rest-got) > 0.05+2e-3*got {
				t.Errorf("case %d: %.3f m2 within %g m, by the outline of all of it %.3f", k, got, d, rest)
			}
		}
	}
	if math.Abs(sum-want) > 0.02*want || len(cases) < 40 {
		t.Errorf("%d cases: %.0f m in all, GEOS has %.0f", len(cases), sum, want)
	}
}

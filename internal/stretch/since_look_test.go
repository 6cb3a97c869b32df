package stretch

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/drift"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// By hand: a bank looked at now has nothing; one kept since two quarters has their two amounts more;
// one on ground looked at in some quarter, and one never looked at, have this quarter's.
func TestSinceByHand(t *testing.T) {
	here, there := orb.Point{1, 1}, orb.Point{2, 2}
	at := func(p orb.Point) Ground { return in(func(q orb.Point) bool { return p == q }) }
	memory := &Memory{Quarter: q2}
	for name, tt := range map[string]struct {
		k      Known
		before Bank
		kept   bool
		want   Bank
	}{
		"looked at now, and kept":       {Known{Now: at(here), Memory: memory}, Bank{Look{Looked, q1}, 7}, true, Bank{Last: Look{Looked, q4}}},
		"kept":                          {Known{Now: nowhere, Memory: memory, Before: at(here)}, Bank{Look{Looked, q1}, 7}, true, Bank{Look{Looked, q1}, 7 + 2*3}},
		"kept, and never looked at":     {Known{Now: nowhere, Memory: memory}, Bank{Look{Never, q1}, 7}, true, Bank{Look{Never, q1}, 13}},
		"looked at in an earlier batch": {Known{Now: nowhere, Before: at(here)}, Bank{}, false, Bank{Look{Unknown, q4}, 3}},
		"elsewhere in an earlier batch": {Known{Now: nowhere, Before: at(there)}, Bank{}, false, Bank{Look{Never, q4}, 3}},
		"in no batch":                   {Known{Now: nowhere}, Bank{}, false, Bank{Look{Never, q4}, 3}},
	} {
		tt.k.Quarter = q4
		if got := tt.k.since(3, here, true, tt.before, tt.kept); got != tt.want {
			t.Errorf("%s: %+v, want %+v", name, got, tt.want)
		}
	}
}

// By hand: a stretch of 100 m in two cells, with four banks. Each bank has half of its cell's 50 m.
// Half of the banks, of four the second, were looked at no earlier; one of four never was; exposure
// counts from the first quarter of any.
func TestSettleByHand(t *testing.T) {
	s := Stretch{Length: 100, Exposure: 99}
	cells := []Cell{
		{[2]Bank{{Look{Looked, q4}, 0}, {Look{Looked, q1}, 40}}},
		{[2]Bank{{Look{Never, q2}, 80}, {Look{Looked, q2}, 20}}},
	}
	room := s.settle(cells, make([]Bank, 3, 10))
	// 140 per km, times 0.05 km, halved
	if math.Abs(float64(s.Exposure-3.5)) > 1e-12 || s.NeverShare != 0.25 || s.Last != (Look{Looked, q1}) || s.Counted != q2 || len(room) != 4 {
		t.Errorf("exposure %g, never %g, last %v, counted from %v, %d banks", s.Exposure, s.NeverShare, s.Last, s.Counted, len(room))
	}
	if math.Abs(float64(s.PerKm()-35)) > 1e-12 {
		t.Errorf("%g per km", s.PerKm())
	}
	if s.settle(cells[:1], room); s.Last != (Look{Looked, q1}) || s.Counted != q2 || s.NeverShare != 0 || math.Abs(float64(s.Exposure-2)) > 1e-12 {
		t.Errorf("the first cell alone: %+v", s)
	}
}

// By hand: never before unknown before known, the earlier of two quarters first.
func TestLooksInOrder(t *testing.T) {
	y := func(year int16, number int8) survey.Quarter { return survey.Quarter{Year: year, Number: number} }
	order := []Look{{Never, y(2025, 4)}, {Never, y(2026, 1)}, {Unknown, y(2020, 1)}, {Unknown, y(2026, 3)}, {Looked, y(2019, 4)}, {Looked, y(2020, 1)}, {Looked, y(2020, 2)}}
	for i, a := range order {
		for k, b := range order {
			if got := sign(a.compare(b)); got != sign(i-k) {
				t.Errorf("%v and %v: %d", a, b, got)
			}
		}
	}
	for _, tt := range []struct {
		look    Look
		counted survey.Quarter
		since   int
		known   bool
	}{{Look{Looked, q4}, y(2027, 1), 1, true}, {Look{Looked, q1}, q2, 4, true}, {Look{Unknown, q4}, q4, 1, false}, {Look{Never, q2}, q2, 3, false}} {
		n, known := tt.look.Quarters(y(2027, 1))
		if tt.look.Counted() != tt.counted || n != tt.since || known != tt.known {
			t.Errorf("%v: counted from %v, %d quarters, %v", tt.look, tt.look.Counted(), n, known)
		}
	}
}

// Each place on a stretch of the last batch is in the cell that its share of the way down falls in;
// by measuring the way down to it. Farther than 25 m off it is in none.
func TestPastFindsTheCell(t *testing.T) {
	frame := earth.NewFrame(fork)
	point := func(x, y float64) orb.Point { return frame.Inverse(orb.Point{x, y}) }
	paths := []orb.LineString{{point(0, 0), point(0, -250), point(0, -300), point(200, -300)}, {point(1000, 0), point(1000, -90)}, {point(2000, 0), point(2000, 0)}}
	m := &Memory{}
	for i, path := range paths {
		var cells []Cell
		for c := range 10 - i {
			cells = append(cells, Cell{[2]Bank{{Exposure: drift.Amount(100*i + c)}}})
		}
		m.Stretches = append(m.Stretches, Remembered{path, PackCells(cells)})
	}
	p := newPast(m)
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, 1).Draw(t, "stretch")
		measures := earth.LengthsAlong(paths[i])
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		cell, ok := p.at(linear.PointAt(paths[i], measures, geo.Meters(share)*measures[len(measures)-1]))
		cells := float64(10 - i)
		if near := math.Abs(share*cells - math.Round(share*cells)); near < 1e-3 {
			t.Skip("between two cells")
		}
		if want := float64(100*i) + math.Floor(share*cells); !ok || float64(cell.Banks[0].Exposure) != want {
			t.Errorf("at %g of stretch %d: %v of %g, want %g", share, i, ok, cell.Banks[0].Exposure, want)
		}
	})
	for _, tt := range []struct {
		at    orb.Point
		found bool
		cell  drift.Amount
	}{
		{point(24.9, -10), true, 0}, {point(25.1, -10), false, 0}, {point(1000, -114), true, 108}, {point(1000, -116), false, 0},
		{point(2010, 0), true, 200}, // a stretch without any length
	} {
		if cell, ok := p.at(tt.at); ok != tt.found || cell.Banks[0].Exposure != tt.cell {
			t.Errorf("%v: %v, %g, want %v, %g", tt.at, ok, cell.Banks[0].Exposure, tt.found, tt.cell)
		}
	}
	if _, ok := newPast(nil).at(fork); ok {
		t.Error("a cell of nothing stored")
	}
	if _, ok := newPast(&Memory{}).at(fork); ok {
		t.Error("a cell of no stretch")
	}
}

// By hand: on a stream that runs south, its left bank is east. Where no water is drawn the banks are
// 5 m from the line and 2 m up; where a lake is, 2 m beyond its shores, which here are 40 m west and
// 60 m east, whatever the width.
func TestBanksByHand(t *testing.T) {
	frame := earth.NewFrame(orb.Point{10, -36.005})
	var shore orb.Ring
	for _, xy := range []orb.Point{{-40, -200}, {60, -200}, {60, 200}, {-40, 200}, {-40, -200}} {
		shore = append(shore, frame.Inverse(xy))
	}
	plain := network(t, span{"a", "", fork, orb.Point{10, -36.01}})
	lines := plain.Lines
	wet, _ := stream.Connect(lines, nil, []stream.Surface{{ID: "w", Kind: stream.Lake, Areas: orb.MultiPolygon{{shore}}}}, flow.Options{Snap: 1})
	if wet.Paths.Len() != 3 {
		t.Fatalf("%d edges, want one above the lake, one on it and one below", wet.Paths.Len())
	}
	length := plain.Net.Edges[0].Length
	upper := wet.Net.Edges[0].Length
	for name, tt := range map[string]struct {
		net        *stream.Network
		at         flow.Place
		west, east float64
		north      float64
	}{
		"a line":         {plain, flow.Place{Offset: length / 2}, -7, 7, 0},
		"a lake":         {wet, flow.Place{Edge: 1, Offset: length/2 - upper}, -42, 62, 0},
		"above the lake": {wet, flow.Place{Edge: 0, Offset: length/2 - 300}, -7, 7, 300},
	} {
		b := newBanks(tt.net, half(tt.net))
		for range 2 { // the second time the edge is known
			middle := b.middle(tt.at)
			sides := b.beside(middle)
			box := around(tt.net.Paths.At(int(tt.at.Edge)), b.reach([]int32{tt.at.Edge}))
			if !box.Contains(sides[0]) || !box.Contains(sides[1]) {
				t.Errorf("%s: banks %v outside %v", name, sides, box)
			}
			got := []orb.Point{frame.Forward(middle), frame.Forward(sides[0]), frame.Forward(sides[1])}
			want := []orb.Point{{0, tt.north}, {tt.east, tt.north}, {tt.west, tt.north}}
			for i := range got {
				if math.Hypot(got[i][0]-want[i][0], got[i][1]-want[i][1]) > 0.05 {
					t.Errorf("%s: %v, want %v", name, got, want)
					break
				}
			}
		}
	}
}

// squares is ground of boxes in degrees, which says what is far from it.
type squares []orb.Bound

func (g squares) Holds(p orb.Point) bool {
	return slices.ContainsFunc(g, func(b orb.Bound) bool { return b.Contains(p) })
}

func (g squares) Meets(box orb.Bound) bool {
	return slices.ContainsFunc(g, func(b orb.Bound) bool { return b.Intersects(box) })
}

// Leaving out what is far from all ground looked at changes nothing: the cells are those of the same ground
// that is asked for every bank, in a first batch and in a later one.
func TestFarFromGroundLookedAt(t *testing.T) {
	k, some, none := known(y(t)), 0, 0
	rapid.Check(t, func(t *rapid.T) {
		ground := func(name string) (out squares) {
			for range rapid.IntRange(0, 3).Draw(t, name) {
				at := orb.Point{10 + rapid.Float64Range(-0.002, 0.014).Draw(t, "lon"), -36 + rapid.Float64Range(-0.035, 0.025).Draw(t, "lat")}
				out = append(out, orb.Bound{Min: at, Max: at}.Pad(rapid.Float64Range(0, 0.003).Draw(t, "half")))
			}
			return out
		}
		now, before := ground("now"), ground("before")
		k := k
		k.Quarter, k.Now, k.Before = q4, now, before
		if rapid.Bool().Draw(t, "later") {
			k.Memory = &Memory{Quarter: q2, Stretches: []Remembered{{orb.LineString{{10, -35.98}, fork}, PackCells([]Cell{{}, {}})}}}
		}
		cells := func(k Known) (out []Cells) {
			cuts, all := cutAll(k.Net, DefaultSettings())
			k.measure(cuts, all)
			for i := range all {
				out = append(out, all[i].Cells)
				if all[i].NeverShare < 1 {
					some++
				} else {
					none++
				}
			}
			return out
		}
		got := cells(k)
		k.Now, k.Before = in(now.Holds), in(before.Holds)
		if want := cells(k); !reflect.DeepEqual(got, want) {
			t.Fatalf("%v, want %v", got, want)
		}
	})
	if some == 0 || none == 0 {
		t.Errorf("%d stretches with banks looked at and %d without: it tries too little", some, none)
	}
}

// Each cell of each bank has the exposure of its place per kilometre, by asking the drift model for
// every cell by itself.
func TestExposureOfEachCell(t *testing.T) {
	k := known(y(t))
	cuts, all := cutAll(k.Net, DefaultSettings())
	k.measure(cuts, all)
	for i := range all {
		now, cells := 0.0, all[i].Cells.Append(nil)
		if len(cells) != cuts[i].cells {
			t.Fatalf("%s: %d cells, want %d", all[i].ID, len(cells), cuts[i].cells)
		}
		for c := range cells {
			own := 0.0
			for _, v := range k.Drift.ExposureOn(k.Net, cuts[i].appendCell(nil, k.Net, c)) {
				own += float64(v)
			}
			now += own
			want := own / float64(all[i].Length.Kilometers()) * float64(len(cells))
			for b, bank := range cells[c].Banks {
				if math.Abs(float64(bank.Exposure)-want) > 1e-9*(1+want) {
					t.Errorf("%s, cell %d, bank %d: %g, want %g", all[i].ID, c, b, bank.Exposure, want)
				}
			}
		}
		if diff := math.Abs(float64(all[i].Now) - now); diff > 1e-9*(1+now) {
			t.Errorf("%s: %g now, its cells have %g", all[i].ID, all[i].Now, now)
		}
	}
	if diff := cmp.Diff(drift.AmountKm(0), byID(all)["long/1"].Now); diff != "" {
		t.Errorf("above the stand (-want +got):\n%s", diff)
	}
}

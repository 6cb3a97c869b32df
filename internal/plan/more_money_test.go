package plan

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/knapsack"
	"driftreach/internal/drift"
	"driftreach/internal/stand"
)

// By hand: five stands of an acre with exposures 5 to 1 and money for two. For 0, 1/2, 1, 3/2, 2, 5/2, 3,
// 4 and 6 acres the best are none, none, one, one, two, two, three, four and all; then the curve ends.
func TestCurveByHand(t *testing.T) {
	p := made(t, budget(2), waits(1, 1, 1), waits(2, 1, 2), waits(3, 1, 3), waits(4, 1, 4), waits(5, 1, 5))
	var got [][2]float64
	for _, point := range p.Curve {
		got = append(got, [2]float64{float64(point.Money), float64(point.Exposure)})
		if point.Bound < point.Exposure {
			t.Errorf("%+v", point)
		}
	}
	want := [][2]float64{{0, 0}, {0.5, 0}, {1, 5}, {1.5, 5}, {2, 9}, {2.5, 9}, {3, 12}, {4, 14}, {6, 15}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("curve (-want +got):\n%s", diff)
	}
	if q := p.Quarters[0]; q.All != 15 || q.Exposure != 9 || !q.Exact || q.Gap() != 0 || q.Bound < 9 {
		t.Errorf("%+v", q)
	}
	if diff := cmp.Diff(&Next{Stand: 2, More: 1, Exposure: 3}, p.Next); diff != "" {
		t.Errorf("next (-want +got):\n%s", diff)
	}
	if p := made(t, budget(0), waits(1, 1, 1)); p.Curve != nil || p.Next != nil {
		t.Errorf("without money: %v, %v", p.Curve, p.Next)
	}
	if p := made(t, budget(5), waits(1, 1, 1)); len(p.Curve) != 2 || p.Next != nil { // a quarter of 5 is enough for all
		t.Errorf("with more than enough: %v, %v", p.Curve, p.Next)
	}
}

// By hand, of what was not chosen: the set-up that a site needs is part of what is needed and no work of
// its own; a little more money is half of what there is at most, and goes before a better bargain; work
// that removes nothing is never next, nor is a set of more than 64.
func TestNextByHand(t *testing.T) {
	s := budget(10)
	s.SetUp, s.PerAcre = 2, 1
	// 8 + 2 are spent; the next at its site needs only its acre; elsewhere 2 more
	same := waits(2, 1, 1)
	same.Place = 1
	p := made(t, s, waits(1, 8, 9), same, waits(3, 1, 2))
	if diff := cmp.Diff(&Next{Stand: 1, More: 1, Exposure: 1}, p.Next); diff != "" {
		t.Errorf("1 for 1 before 2 for 3 (-want +got):\n%s", diff)
	}
	p = made(t, s, waits(1, 8, 9), waits(3, 1, 2))
	if diff := cmp.Diff(&Next{Stand: 1, More: 3, Exposure: 2}, p.Next); diff != "" {
		t.Errorf("with its set-up (-want +got):\n%s", diff)
	}
	// 5 more are half of 10, and worth less than 6 more
	p = made(t, budget(10), waits(1, 10, 90), waits(2, 5, 1), waits(3, 6, 40))
	if diff := cmp.Diff(&Next{Stand: 1, More: 5, Exposure: 1}, p.Next); diff != "" {
		t.Errorf("a little more (-want +got):\n%s", diff)
	}
	p = made(t, budget(10), waits(1, 10, 90), waits(2, 5.01, 1), waits(3, 6, 40), waits(4, 7, 48))
	if diff := cmp.Diff(&Next{Stand: 3, More: 7, Exposure: 48}, p.Next); diff != "" {
		t.Errorf("all a lot more (-want +got):\n%s", diff)
	}
	if p = made(t, budget(10), waits(1, 10, 90), waits(2, 5, 0)); p.Next != nil {
		t.Errorf("next is what removes nothing: %+v", p.Next)
	}
	for above, next := range map[int]bool{mostAbove - 1: true, mostAbove: false} { // a row of stands, each reaching the next
		stands := []Stand{waits(1, 10, 90)}
		for i := range above + 1 {
			stands = append(stands, waits(i+2, 1, 0, int32(i+2)))
		}
		stands[above+1].Waiting[0].Exposure, stands[above+1].Reaches = 5, nil
		if p := made(t, budget(10), stands...); (p.Next != nil) != next || next && p.Next.With != above {
			t.Errorf("%d above it: %+v", above, p.Next)
		}
	}
}

// By hand: an item with what it needs and that needs, each once, without what is chosen.
func TestUnmet(t *testing.T) {
	items := []knapsack.Item{{Needs: []int32{1, 2}}, {Needs: []int32{3}}, {Needs: []int32{3, 4}}, {Needs: []int32{0}}, {Needs: []int32{5}}, {}}
	in := []bool{false, false, false, false, true, false}
	seen := make([]int, len(items))
	for it, want := range [][]int32{{0, 1, 2, 3}, {1, 3, 0, 2}, {2, 3, 0, 1}, {3, 0, 1, 2}, {4, 5}, {5}} {
		if got := unmet(items, in, int32(it), seen); !slices.Equal(got, want) {
			t.Errorf("%d needs %v, want %v", it, got, want)
		}
	}
}

// By hand: in a draw of 6 a block has its share of the stand's exposure; without exposure, of its
// acres; without either it has nothing. Without a draw it has its own.
func TestDrawnByHand(t *testing.T) {
	stands := []Stand{
		{Waiting: []Block{{Acres: 1, Exposure: 1}, {Acres: 1, Exposure: 3}}, Draws: []drift.DrawnExposure{6, 8}}, {Waiting: []Block{{Acres: 1}, {Acres: 2}}, Draws: []drift.DrawnExposure{6}},
		{Waiting: []Block{{}}, Draws: []drift.DrawnExposure{6}},
	}
	p := planner{site: &Site{Stands: stands}}
	p.list()
	for _, tt := range []struct {
		work int32
		draw int
		want drift.AmountKm
	}{{0, 0, 1.5}, {1, 0, 4.5}, {1, 1, 6}, {1, 2, 3}, {2, 0, 2}, {3, 0, 4}, {4, 0, 0}, {3, 1, 0}} {
		if got := p.drawn(tt.work, tt.draw); math.Abs(float64(got-tt.want)) > 1e-12 {
			t.Errorf("work %d, draw %d: %g, want %g", tt.work, tt.draw, got, tt.want)
		}
	}
}

// Sites of any squares are those of a plain rule: two belong together if their gap, corner to corner or
// side to side in one drawing, is no more than the distance, and others that belong to one of them too.
func TestSitesOfAnySquares(t *testing.T) {
	frame := earth.NewFrame(orb.Point{-128, -38})
	rapid.Check(t, func(t *rapid.T) {
		type square struct{ x, y, side float64 }
		squares := make([]square, rapid.IntRange(1, 12).Draw(t, "stands"))
		stands := make([]*stand.Stand, len(squares))
		for i := range squares {
			q := square{float64(rapid.IntRange(0, 900).Draw(t, "x")), float64(rapid.IntRange(0, 900).Draw(t, "y")), float64(rapid.IntRange(5, 90).Draw(t, "side"))}
			squares[i] = q
			ring := orb.Ring{{q.x, q.y}, {q.x + q.side, q.y}, {q.x + q.side, q.y + q.side}, {q.x, q.y + q.side}, {q.x, q.y}}
			stands[i] = &stand.Stand{Center: frame.Inverse(orb.Point{q.x + q.side/2, q.y + q.side/2}), Footprint: stand.Pack(frame.Unproject(orb.MultiPolygon{{ring}}))}
		}
		distance := float64(rapid.IntRange(10, 200).Draw(t, "distance"))
		want := make([]int32, len(squares))
		for i := range want {
			want[i] = int32(i)
		}
		for range squares { // the lowest number spreads, as often as there are stands
			for i, a := range squares {
				for k, b := range squares {
					gap := math.Hypot(max(0, a.x-b.x-b.side, b.x-a.x-a.side), max(0, a.y-b.y-b.side, b.y-a.y-a.side))
					if math.Abs(gap-distance) < 0.01 {
						t.Skip("a tie but for the earth's curve")
					}
					if gap <= distance {
						want[i] = min(want[i], want[k])
					}
				}
			}
		}
		number := map[int32]int32{}
		for i, root := range want {
			if _, known := number[root]; !known {
				number[root] = int32(len(number))
			}
			want[i] = number[root]
		}
		if got := Sites(stands, geo.Meters(distance)); !slices.Equal(got, want) {
			t.Errorf("within %g m of %v: %v, want %v", distance, squares, got, want)
		}
	})
}

// The gap of a set from its bound, by hand: 90 of 100 is a tenth; none where it is exact, or reaches it.
func TestGap(t *testing.T) {
	for want, q := range map[geo.Share]Quarter{0.1: {Exposure: 90, Bound: 100}, 0: {Exposure: 90, Bound: 100, Exact: true}, 1: {Bound: 5}} {
		if got := q.Gap(); math.Abs(float64(got-want)) > 1e-12 {
			t.Errorf("%+v: %g, want %g", q, got, want)
		}
	}
	if q := (Quarter{Exposure: 5, Bound: 5 - 1e-12}); q.Gap() != 0 {
		t.Errorf("above its bound by rounding: %g", q.Gap())
	}
	for words, q := range map[string]Quarter{
		"within 0.10 % of the best possible": {Exposure: 99.905, Bound: 100, All: 200, First: 1}, // 0.095, and not 0.09
		"within 0.2 % of the best possible":  {Exposure: 99.87, Bound: 100, All: 200, First: 1},
		"within 0.03 % of the best possible": {Exposure: 99.972, Bound: 100, All: 200, First: 1},
		"the best possible":                  {All: 5, Exact: true},
	} {
		if got := q.GapWords(); got != words {
			t.Errorf("%+v: %s, want %s", q, got, words)
		}
	}
}

// Every default that the comments of the fields name, and the limits that count as within.
func TestDefaults(t *testing.T) {
	want := Settings{Quarters: 1, FollowUpFirst: true, Block: 5, SiteDistance: 100, LookFirst: 4, Efficacy: 1, Labour: []geo.Share{0.083, 0.036, 0.03, 0.024}}
	if diff := cmp.Diff(want, DefaultSettings()); diff != "" {
		t.Errorf("defaults (-want +got):\n%s", diff)
	}
	// shares of 84, 7, 3 and, in the fifth year, 2 % of ten years' labour
	for year, percent := range map[int]float64{0: 7, 1: 3, 3: 2} {
		if got := want.Labour[year]; math.Abs(float64(got)-percent/84) > 5e-4 {
			t.Errorf("year %d has the share %g, want %g/84", year+1, got, percent)
		}
	}
	for name, change := range map[string]func(s *Settings){
		"no budget": func(s *Settings) { s.Budget = 0 }, "ten years": func(s *Settings) { s.Quarters = 40 }, "no distance": func(s *Settings) { s.SiteDistance = 0 },
		"no effect": func(s *Settings) { s.Efficacy = 0 }, "all grows back": func(s *Settings) { s.Regrowth = 1 }, "all labour": func(s *Settings) { s.Labour = []geo.Share{0, 1} },
	} {
		s := DefaultSettings()
		if change(&s); s.Validate() != nil {
			t.Errorf("%s: %v", name, s.Validate())
		}
	}
	for name, change := range map[string]func(s *Settings){
		"longer than ten years": func(s *Settings) { s.Quarters = 41 }, "set-up below none": func(s *Settings) { s.SetUp = -1 }, "set-up that is no number": func(s *Settings) { s.SetUp = Cost(math.NaN()) },
		"more than all grows back": func(s *Settings) { s.Regrowth = 1.1 }, "less than none": func(s *Settings) { s.Regrowth = -0.1 }, "worse than no effect": func(s *Settings) { s.Efficacy = -0.1 },
		"labour below none": func(s *Settings) { s.Labour = []geo.Share{0.1, -0.1} }, "acres that are no number": func(s *Settings) { s.Block = geo.Acres(math.NaN()) },
	} {
		s := DefaultSettings()
		if change(&s); s.Validate() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

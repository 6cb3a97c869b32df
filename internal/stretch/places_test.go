package stretch

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/spill"
	"driftreach/internal/stream"
)

// By hand, beside the Stem, which runs south along 10 degrees: stands 120 and 80 m east of its middle,
// 600 m east, and one that is dead. Within 100 m there is one, within 150 m two, the nearer of them the
// third of all; within 80 m still that one, a metre less and there is none.
func TestStandsNearByHand(t *testing.T) {
	k := known(y(t))
	frame := earth.NewFrame(orb.Point{10, -36.012})
	at := func(east float64) orb.Point { return frame.Inverse(orb.Point{east, 0}) }
	k.Stands = []Stand{
		{Live: true, At: at(600), Access: []string{"boat"}}, {Live: true, At: at(120), Access: []string{"track", "gate"}},
		{Live: true, At: at(80), Access: []string{"gate"}}, {At: at(10), Access: []string{"none"}},
	}
	for near, want := range map[geo.Meters]Stretch{
		79.9:  {NearestStand: -1},
		80.1:  {StandsNear: 1, NearestStand: 2, Access: []string{"gate"}},
		100:   {StandsNear: 1, NearestStand: 2, Access: []string{"gate"}},
		150:   {StandsNear: 2, NearestStand: 2, Access: []string{"gate", "track"}},
		600.5: {StandsNear: 3, NearestStand: 2, Access: []string{"boat", "gate", "track"}},
	} {
		s := DefaultSettings()
		s.Near = near
		got := byID(Find(k, s))["stem/2"]
		if diff := cmp.Diff(want, Stretch{StandsNear: got.StandsNear, NearestStand: got.NearestStand, Access: got.Access}, cmp.AllowUnexported(Stretch{}, Cells{}, spill.Text{})); diff != "" {
			t.Errorf("within %g m (-want +got):\n%s", float64(near), diff)
		}
	}
	k.Stands = []Stand{{Live: true, At: at(50)}, {Live: true, At: at(50)}, {Live: true, At: at(40)}, {Live: true, At: at(40)}}
	if got := byID(Find(k, DefaultSettings()))["stem/2"]; got.NearestStand != 2 || got.StandsNear != 4 {
		t.Errorf("of two as near the nearest is %d of %d", got.NearestStand, got.StandsNear)
	}
}

// The nearest part of a line that bends away and back counts, not its first part near the stand.
func TestStandNearABend(t *testing.T) {
	frame := earth.NewFrame(orb.Point{10, -36})
	var path orb.LineString
	for _, xy := range []orb.Point{{300, 0}, {3000, 0}, {3000, -700}, {20, -100}, {-300, -100}} {
		path = append(path, frame.Inverse(xy))
	}
	k := Known{Stands: []Stand{{Live: true, At: frame.Inverse(orb.Point{0, 0})}}}
	all := []Stretch{{Drawn: &Drawn{Path: path}}, {Drawn: &Drawn{Path: orb.LineString{frame.Inverse(orb.Point{-150, 50}), frame.Inverse(orb.Point{-150, -50})}}}}
	s := DefaultSettings()
	s.Near = 120
	if k.nearStands(all, s); all[0].StandsNear != 1 || all[1].StandsNear != 0 {
		t.Errorf("%d near the bend, 100 m away, and %d near the one 150 m away", all[0].StandsNear, all[1].StandsNear)
	}
}

// More stretches than are searched at once: each has the stand that lies beside it, however many come
// before; by hand.
func TestStandsNearManyStretches(t *testing.T) {
	frame := earth.NewFrame(orb.Point{10, -36})
	all := make([]Stretch, 2*stretchesAtOnce+1)
	for i := range all {
		all[i].Drawn = &Drawn{Path: orb.LineString{frame.Inverse(orb.Point{float64(i), 5e4}), frame.Inverse(orb.Point{float64(i), 5e4 + 1})}}
	}
	at := []int{0, stretchesAtOnce - 1, stretchesAtOnce, 2 * stretchesAtOnce}
	var k Known
	for n, i := range at {
		place := orb.Point{5e4 * float64(n), 0}
		all[i].Path = orb.LineString{frame.Inverse(place), frame.Inverse(orb.Point{place[0], 90})}
		k.Stands = append(k.Stands, Stand{Live: true, At: frame.Inverse(place)})
	}
	s := DefaultSettings()
	s.Near = 120
	k.nearStands(all, s)
	for i := range all {
		want, near := int32(slices.Index(at, i)), int32(0)
		if want >= 0 {
			near = 1
		}
		if all[i].NearestStand != want || all[i].StandsNear != near {
			t.Fatalf("stretch %d has %d stands, the nearest %d, want %d", i, all[i].StandsNear, all[i].NearestStand, want)
		}
	}
}

// On any tree with any stands, the highest are those with none above: by going down from every stand
// and crossing out what it passes. The uppermost of an edge stands for it.
func TestHighestByWalkingDown(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		spans := []span{{"s0", "", fork, orb.Point{10, -36.02}}}
		for i := 1; i < rapid.IntRange(1, 9).Draw(r, "branches"); i++ {
			to := spans[rapid.IntRange(0, i-1).Draw(r, "to")].from
			// no two begin at one place: these would be a braid
			spans = append(spans, span{fmt.Sprint("s", i), "", orb.Point{to[0] + 0.0001*float64(int(1)<<i), to[1] + 0.01}, to})
		}
		net := network(t, spans...)
		k := Known{Net: net}
		for range rapid.IntRange(0, 6).Draw(r, "stands") {
			e := int32(rapid.IntRange(-1, len(net.Net.Edges)-1).Draw(r, "edge"))
			k.Stands = append(k.Stands, Stand{On: flow.Place{Edge: e, Offset: geo.Meters(rapid.IntRange(0, 900).Draw(r, "offset"))}})
		}
		highest := map[flow.Place]bool{}
		for _, s := range k.Stands {
			if s.On.Edge >= 0 {
				highest[s.On] = true
			}
		}
		for _, s := range k.Stands {
			if s.On.Edge < 0 {
				continue
			}
			for e := s.On.Edge; e >= 0; e = net.Net.Down(e) {
				for at := range highest {
					if at.Edge == e && (e != s.On.Edge || at.Offset > s.On.Offset) {
						delete(highest, at)
					}
				}
			}
		}
		got := k.highest()
		for _, at := range got {
			if !highest[at] {
				r.Errorf("%+v of %+v is not the highest", at, k.Stands)
			}
		}
		if len(got) != len(highest) {
			r.Errorf("%d of %d highest of %+v", len(got), len(highest), k.Stands)
		}
	})
}

// By hand on the two forks: heads are the first stretches of both, but for one above a highest stand.
// A site counts once on a stretch, works in their order, and where two stretches meet the upper one.
func TestPlacesByHand(t *testing.T) {
	k := known(y(t))
	first := geo.Meters(2219.06 / 3)
	k.Sites = []Site{
		{Work: 9, Places: []flow.Place{place(k.Net, "long", 100), place(k.Net, "long", 200), place(k.Net, "stem", 100)}},
		{Work: 4, Places: []flow.Place{place(k.Net, "long", 300), {Edge: -1}}},
	}
	all := byID(Find(k, DefaultSettings()))
	for id, want := range map[string]Stretch{
		"long/1": {Above: true, Works: []int32{4, 9}}, "long/2": {}, "long/3": {}, "short/1": {Head: true}, "short/2": {}, "stem/1": {Works: []int32{9}}, "stem/4": {},
	} {
		got := all[id]
		if got.Above != want.Above || got.Head != want.Head || !slices.Equal(got.Works, want.Works) {
			t.Errorf("%s: above %v, head %v, works %v", id, got.Above, got.Head, got.Works)
		}
	}
	cuts, stretches := cutAll(k.Net, DefaultSettings())
	on := newOnEdges(cuts, k.Net)
	for offset, want := range map[geo.Meters]string{0: "long/1", first - 1: "long/1", first + 1: "long/2", 2*first - 1: "long/2", 3*first - 1: "long/3", 99999: "long/3"} {
		if got := stretches[on.at(place(k.Net, "long", offset))].ID; got != want {
			t.Errorf("%g m down is on %s, want %s", float64(offset), got, want)
		}
	}
	if got := stretches[on.at(place(k.Net, "long", cuts[0].appendPieces(nil, k.Net)[0].To))].ID; got != stretches[0].ID {
		t.Errorf("the end of %s is on %s", stretches[0].ID, got)
	}
	if on.at(flow.Place{Edge: -1}) != -1 || (onEdges{first: make([]int32, 2)}).at(flow.Place{}) != -1 {
		t.Error("no place is on a stretch")
	}
	if got := k.justAbove(onEdges{first: make([]int32, 4)}, cuts, flow.Place{}); got != nil {
		t.Errorf("above a place without a stretch: %v", got)
	}
}

// By hand: a stretch over 300 m of one edge, from 100 m down it, and 200 m of the next: 50 m down the
// second it has 350 m above. A place on none of its edges has all of it above.
func TestUpTo(t *testing.T) {
	c := cut{on: &chain{edges: []int32{4, 2}, ends: []geo.Meters{400, 600}}, from: 100, to: 600, length: 500}
	net := &stream.Network{Net: &flow.Network{Edges: []flow.Edge{2: {Length: 200}, 4: {Length: 400}}}}
	for at, want := range map[flow.Place]geo.Meters{{Edge: 4, Offset: 150}: 50, {Edge: 4, Offset: 50}: 0, {Edge: 2, Offset: 50}: 350, {Edge: 9}: 500} {
		if got := c.upTo(net, at); got != want {
			t.Errorf("above %+v: %g m, want %g", at, float64(got), float64(want))
		}
	}
	// just above a stand half of the stretch down there is only the next stretch, a step farther this one
	net = &stream.Network{Net: &flow.Network{Nodes: make([]flow.Node, 2), Edges: []flow.Edge{{To: 1, Length: 1000}}}}
	whole := &chain{edges: []int32{0}, ends: []geo.Meters{1000}}
	cuts := []cut{{on: whole, to: 500, length: 500}, {on: whole, from: 500, to: 1000, length: 500}}
	k, on := Known{Net: net}, newOnEdges(cuts, net)
	for offset, want := range map[geo.Meters][]int32{750: {0}, 751: {1, 0}} {
		if got := k.justAbove(on, cuts, flow.Place{Offset: offset}); !slices.Equal(got, want) {
			t.Errorf("above %g m: %v, want %v", float64(offset), got, want)
		}
	}
}

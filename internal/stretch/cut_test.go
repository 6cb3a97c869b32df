package stretch

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/check"
	"driftreach/internal/stream"
)

// A degree of latitude at 36 south is 110.95 km (WGS 84), so that 0.009 degrees are 998.6 m and 0.01
// 1,109.5 m.
var fork = orb.Point{10, -36}

// By hand: two lines of one name without a junction between them are one sequence; another name, a
// confluence and a divergence end it. Numbers count on along a line that a tributary joins.
func TestChainsByHand(t *testing.T) {
	south := func(metres float64) orb.Point { return orb.Point{10, -36 - metres/110952} }
	for _, tt := range []struct {
		name  string
		spans []span
		want  []string // id and whole metres
	}{
		{"one name", []span{{"a", "R", south(0), south(700)}, {"b", "R", south(700), south(1500)}}, []string{"a/1 750", "b/1 750"}},
		{"two names", []span{{"a", "R", south(0), south(700)}, {"b", "S", south(700), south(1500)}}, []string{"a/1 700", "b/1 800"}},
		{"a confluence", []span{{"a", "R", south(0), south(700)}, {"b", "R", south(700), south(1500)}, {"c", "R", orb.Point{10.01, south(700)[1]}, south(700)}},
			[]string{"a/1 700", "b/1 800", "c/1 902"}},
		{"a divergence", []span{{"a", "R", south(0), south(700)}, {"b", "R", south(700), south(1500)}, {"c", "R", south(700), orb.Point{10.01, south(700)[1]}}},
			[]string{"a/1 700", "b/1 800", "c/1 902"}},
		{"a tributary at the middle of a line", []span{{"a", "R", south(0), south(2000)}, {"c", "T", orb.Point{10.01, south(700)[1]}, south(700)}},
			[]string{"a/1 700", "a/2 650", "a/3 650", "c/1 902"}},
	} {
		net := network(t, tt.spans...)
		cuts, all := cutAll(net, DefaultSettings())
		var got []string
		for i := range all {
			got = append(got, fmt.Sprintf("%s %.0f", all[i].ID, float64(all[i].Length)))
			if want := max(1, int(math.Round(float64(all[i].Length)/50))); cuts[i].cells != want {
				t.Errorf("%s: %s has %d cells, want %d", tt.name, all[i].ID, cuts[i].cells, want)
			}
		}
		slices.Sort(got)
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
	}
}

// By hand: no longer than a kilometre, a hair of rounding more counts as one; nothing is no stretch.
func TestParts(t *testing.T) {
	for length, want := range map[geo.Meters]int{0: 0, 1e-3: 1, 999: 1, 1000: 1, 1000.0000001: 1, 1000.01: 2, 2000: 2, 2000.1: 3, 40000: 40} {
		c := chain{ends: []geo.Meters{length / 3, length}}
		if got := c.parts(DefaultSettings()); got != want {
			t.Errorf("%g m: %d, want %d", float64(length), got, want)
		}
	}
}

// By hand, along edges of 300, 0 and 500 m: what lies between two measures, and the place of one.
func TestPiecesByHand(t *testing.T) {
	net := &stream.Network{Net: &flow.Network{Edges: []flow.Edge{{Length: 500}, {Length: 300}, {Length: 0}}}}
	c := &chain{edges: []int32{1, 2, 0}, ends: []geo.Meters{300, 300, 800}}
	for _, tt := range []struct {
		from, to geo.Meters
		want     []flow.Piece
	}{
		{0, 100, []flow.Piece{{Edge: 1, To: 100}}}, {100, 300, []flow.Piece{{Edge: 1, From: 100, To: 300}}}, {300, 800, []flow.Piece{{To: 500}}},
		{250, 350, []flow.Piece{{Edge: 1, From: 250, To: 300}, {To: 50}}}, {790, 900, []flow.Piece{{From: 490, To: 500}}},
		{0, 800, []flow.Piece{{Edge: 1, To: 300}, {To: 500}}}, {400, 400, []flow.Piece{{From: 100, To: 100}}}, {300, 300, []flow.Piece{{Edge: 1, From: 300, To: 300}}},
	} {
		if diff := cmp.Diff(tt.want, c.appendPieces(nil, net, tt.from, tt.to)); diff != "" {
			t.Errorf("%g to %g (-want +got):\n%s", float64(tt.from), float64(tt.to), diff)
		}
	}
	for at, want := range map[geo.Meters]flow.Place{
		0: {Edge: 1}, 300: {Edge: 1, Offset: 300}, 301: {Edge: 0, Offset: 1}, 800: {Edge: 0, Offset: 500}, 900: {Edge: 0, Offset: 500}, -1: {Edge: 1},
	} {
		if got := c.place(net, at); got != want {
			t.Errorf("the place at %g m: %+v, want %+v", float64(at), got, want)
		}
	}
	one := cut{on: c, from: 200, length: 400, cells: 4}
	for cells, want := range map[float64]geo.Meters{0: 200, 1: 300, 2.5: 450, 4: 600} {
		if got := one.at(cells); got != want {
			t.Errorf("%g cells down: %g m, want %g", cells, float64(got), float64(want))
		}
	}
	if got := one.middle(net, 1); got != (flow.Place{Edge: 0, Offset: 50}) {
		t.Errorf("the middle of the second cell: %+v", got)
	}
}

// A recorded length that differs from the line's makes an offset of half of it the middle of the
// line all the same; an edge of no length has one place.
func TestMeasureAt(t *testing.T) {
	net := &stream.Network{Net: &flow.Network{Edges: []flow.Edge{{Length: 2000}, {}}}}
	for _, tt := range []struct {
		measures []geo.Meters
		edge     int32
		offset   geo.Meters
		want     geo.Meters
	}{{[]geo.Meters{0, 400, 1000}, 0, 1000, 500}, {[]geo.Meters{0, 400, 1000}, 0, 2000, 1000}, {[]geo.Meters{0, 5}, 1, 3, 0}, {nil, 0, 1000, 0}} {
		if got := measureAt(net, tt.measures, tt.edge, tt.offset); got != tt.want {
			t.Errorf("%+v: %g", tt, float64(got))
		}
	}
}

// On any tree of streams, of any length of stretch, the stretches cover every metre once, each is a
// line that runs on without a gap, and the cells of a grid cover them once.
func TestAnyTreeIsCutOnce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		spans := []span{{"s0", "", fork, orb.Point{10, -36.02}}}
		for i := 1; i < rapid.IntRange(1, 8).Draw(r, "branches"); i++ {
			to := spans[rapid.IntRange(0, i-1).Draw(r, "to")].from
			spans = append(spans, span{fmt.Sprint("s", i), rapid.SampledFrom([]string{"", "R"}).Draw(r, "name"),
				orb.Point{to[0] + rapid.Float64Range(-0.02, 0.02).Draw(r, "east"), to[1] + rapid.Float64Range(0.001, 0.02).Draw(r, "north")}, to})
		}
		net := network(t, spans...)
		s := DefaultSettings()
		s.Length = geo.Kilometers(rapid.Float64Range(0.1, 3).Draw(r, "length"))
		cuts, all := cutAll(net, s)
		covered := make([]geo.Meters, len(net.Net.Edges))
		for i := range all {
			if all[i].Length > s.Length.Meters()*(1+1e-9) {
				r.Errorf("%s is %g m long", all[i].ID, float64(all[i].Length))
			}
			if d := earth.LineLength(cuts[i].line(net)) - all[i].Length; math.Abs(float64(d)) > 1e-3 {
				r.Errorf("%s: its line is %g m longer", all[i].ID, float64(d))
			}
			for _, p := range cuts[i].appendPieces(nil, net) {
				covered[p.Edge] += p.To - p.From
			}
		}
		g := NewGrid(net, s)
		for i := range g.Cells {
			covered[g.Cells[i].Piece.Edge] += g.Cells[i].Length
		}
		for e := range covered {
			if want := 2 * net.Net.Edges[e].Length; math.Abs(float64(covered[e]-want)) > 1e-6 {
				r.Errorf("edge %d of %g m is covered by %g m", e, float64(want)/2, float64(covered[e]))
			}
		}
	})
}

// Every default that the comments of the fields name, and the limits that count as within.
func TestDefaults(t *testing.T) {
	if got := DefaultSettings(); got != (Settings{1, 0.1, 0.2, 0.2, 1, 500}) {
		t.Errorf("%+v", got)
	}
	for _, fine := range []func(s *Settings){
		func(s *Settings) { s.ListShare = 1 }, func(s *Settings) { s.PlacesShare, s.RandomShare = 1, 0 }, func(s *Settings) { s.PlacesShare, s.RandomShare = 0, 1 },
		func(s *Settings) { s.Near = 0 }, func(s *Settings) { s.Length = 1e-9 },
	} {
		s := DefaultSettings()
		if fine(&s); s.Validate() != nil {
			t.Errorf("%+v: %v", s, s.Validate())
		}
	}
	for _, bad := range []func(s *Settings){
		func(s *Settings) { s.PlacesShare = -0.1 }, func(s *Settings) { s.RandomShare = -0.1 }, func(s *Settings) { s.RandomShare = geo.Share(math.NaN()) },
		func(s *Settings) { s.Near = geo.Meters(math.NaN()) }, func(s *Settings) { s.Length = geo.Kilometers(math.NaN()) }, func(s *Settings) { s.ListShare = -1 },
	} {
		s := DefaultSettings()
		if bad(&s); s.Validate() == nil {
			t.Errorf("%+v: no error", s)
		}
	}
	for _, rule := range Rules() {
		if rule.Severity != check.Note || rule.Remedy == "" || rule.Code != RuleLeftOut().Code && rule.Code != RuleMemory().Code {
			t.Errorf("%+v", rule)
		}
	}
	if len(Rules()) != 2 || RuleLeftOut().Code == RuleMemory().Code {
		t.Errorf("%d rules", len(Rules()))
	}
}

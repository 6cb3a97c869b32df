package flow

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// one is the expected report of one trouble.
type one struct {
	kind    string
	lines   string     // names, in order
	at      [2]float64 // metres about the middle of the ground
	message string     // part of it
	repair  string     // part of it
}

// withShare, ordered, marked and withArea set one recorded value of a line.
func withShare(l Line, share float64) Line { l.Share = share; return l }
func ordered(l Line, order int32) Line     { l.Order = order; return l }
func marked(l Line, divergence uint8) Line { l.Divergence = divergence; return l }
func withArea(l Line, area float64) Line   { l.Area = geo.SquareKilometers(area); return l }

// troubleCases are networks with one fault each, and everything that must be reported: by hand, in
// metres east and north.
func troubleCases(g ground) map[string]struct {
	lines []Line
	want  []one
} {
	stem, low := g.line("stem", 0, 900, 0, 600), g.line("low", 0, 600, 0, 0)
	left, right := g.line("left", 0, 600, -200, 0), g.line("right", 0, 600, 200, 0)
	twoEnds := one{TwoOutlets, "right", [2]float64{200, 0}, "line right ends where nothing goes on, and so does the main outlet's line left", "kept as an outlet"}
	return map[string]struct {
		lines []Line
		want  []one
	}{
		"a gap": {[]Line{stem, g.line("x", 0.6, 600, 0, 0)},
			[]one{{GapClosed, "stem x", [2]float64{0, 600}, "2 lines end up to 0.60 m apart", "joined as one place"}}},
		"an end on a middle": {[]Line{g.line("stem", 0, 900, 0, 0), g.line("x", 300, 900, 0, 500)},
			[]one{{TJunction, "stem", [2]float64{0, 500}, "another line ends on line stem, 400.", "split there"}}},
		"an end just short": {[]Line{g.line("stem", 0, 900, 0, 0), g.line("x", 300, 900, 4, 500)},
			[]one{{Dangle, "stem x", [2]float64{4, 500}, "line x ends 4.0 m short of line stem", "left open: no water passes; a larger snap distance would join them"}}},
		"a gap in line": {[]Line{stem, g.line("x", 0, 560, 5, 0)},
			[]one{{GapOpen, "stem x", [2]float64{0, 600}, "two lines in line with each other end 40.0 m apart", "left open: no water passes"}}},
		"loose ends that look away": {[]Line{stem, g.line("x", 40, 600, 40, 1200)}, nil},
		"a bare crossing": {[]Line{g.line("stem", 0, 900, 0, 0), g.line("x", -300, 700, 0, 500), g.line("y", 0, 500, 300, 300)},
			[]one{{Crossing, "stem", [2]float64{0, 500}, "one line ends and another begins on line stem, 400.", "not joined: the water flows on past it"}}},
		"a crossing in one stroke": {[]Line{g.line("stem", 0, 900, 0, 0), g.line("x", -300, 700, 300, 300)},
			[]one{{Crossing, "stem x", [2]float64{0, 500}, "lines stem and x cross or touch where neither has a node", "not joined"}}},
		"a line that begins on a middle": {[]Line{g.line("stem", 0, 900, 0, 0), g.line("x", 0, 500, 300, 400)},
			[]one{{TJunction, "stem", [2]float64{0, 500}, "another line ends on line stem, 400.", "split there"},
				{LooseBranch, "x", [2]float64{300, 400}, "water parts into lines x and stem, and line x ends where nothing goes on", "flows as drawn"}}},
		"many lines at one place": {fan(g, 14), []one{{ManyMeet, "r00 r01 r02 r03 r04 r05 r06 r07 r08 r09 r10 r11 r12 r13", [2]float64{0, 600}, "14 lines end at one place: 13 come to it, 1 leave it", "joined as drawn"}}},
		"all against, by order": {uphill(g, func(l *Line, order int) { l.Order = int32(order) }),
			[]one{{AllAgainst, "a", [2]float64{0, 0}, "the 7 lines that hang together with line a look digitised against the flow: the recorded order falls on the way down at 6 places, rises at 0", "they flow as drawn"},
				{TwoOutlets, "d", [2]float64{-300, 900}, "", "kept as an outlet"}, {TwoOutlets, "f", [2]float64{100, 900}, "", "kept"}, {TwoOutlets, "g", [2]float64{300, 900}, "", "kept"}}},
		"all against, by slope": {uphill(g, func(l *Line, _ int) { l.Fall = -1 }),
			[]one{{AllAgainst, "a", [2]float64{0, 0}, "the recorded slope is below 0 on 7 lines, above it on 0", "they flow as drawn"},
				{TwoOutlets, "d", [2]float64{-300, 900}, "", "kept as an outlet"}, {TwoOutlets, "f", [2]float64{100, 900}, "", "kept"}, {TwoOutlets, "g", [2]float64{300, 900}, "", "kept"}}},
		"all against, by shape": {uphill(g, func(*Line, int) {}),
			[]one{{AllAgainst, "a", [2]float64{0, 0}, "the water parts at 3 places, meets at 0", "they flow as drawn"},
				{TwoOutlets, "d", [2]float64{-300, 900}, "", "kept as an outlet"}, {TwoOutlets, "f", [2]float64{100, 900}, "", "kept"}, {TwoOutlets, "g", [2]float64{300, 900}, "", "kept"}}},
		"no length": {[]Line{stem, low, g.line("x", 0, 600, 0, 600)},
			[]one{{ZeroLength, "x", [2]float64{0, 600}, "line x has no length (2 vertices)", "left out of the network"}}},
		"shrunk by the snap distance": {[]Line{stem, low, g.line("x", 0, 600, 0.3, 600)},
			[]one{{GapClosed, "low stem x", [2]float64{0, 600}, "3 lines end up to 0.30 m apart", "joined"},
				{CycleCut, "x", [2]float64{0, 600}, "water goes round: line x", "no water enters this line from the ring"}}},
		"a vertex that is no place": {[]Line{stem, low, {Name: "x", Path: orb.LineString{g.at(0, 600), {0, 91}}}},
			[]one{{Unusable, "x", [2]float64{0, 600}, "a vertex that is no position", "left out of the network"}}},
		"across itself": {[]Line{g.line("x", 0, 900, 500, 500, 500, 900, 0, 500)},
			[]one{{SelfCrossing, "x", [2]float64{0, 900}, "line x crosses itself", "kept as digitised"}}},
		"ends apart": {[]Line{named(stem, "1", "2"), named(low, "2", "3"), named(g.line("x", 900, 900, 50, 600), "4", "2")},
			[]one{{EndsApart, "x", [2]float64{50, 600}, "m from the other lines of node 2", "the name was followed"}}},
		"against the names": {[]Line{named(stem, "1", "2"), named(g.line("x", 0, 300, 0, 600), "2", "3"), named(g.line("y", 0, 300, 0, 0), "3", "4")},
			[]one{{ReversedDirection, "x", [2]float64{0, 600}, "line x is digitised from node 3 to node 2", "flows as its nodes are named"}}},
		"against the stream": {[]Line{stem, g.line("x", 0, 300, 0, 600), g.line("y", 0, 300, 0, 0)},
			[]one{{ReversedDirection, "x", [2]float64{0, 600}, "line x runs against its neighbours at both ends", "turned round"}}},
		"facing with no way out": {[]Line{stem, g.line("x", 0, 300, 0, 600)}, nil}, // not reported: a lone pair has one outlet
		"a ring": {[]Line{stem, g.line("a", 0, 600, 0, 300), g.line("b", 0, 300, 100, 400, 0, 600), g.line("c", 0, 300, 0, 0)},
			[]one{{CycleCut, "b", [2]float64{0, 300}, "water goes round: line b leads back", "no water enters this line"}}},
		"an island": {[]Line{g.line("stem", 0, 900, 0, -60000), g.line("x", 5000, 0, 5000, -100)},
			[]one{{Island, "x", [2]float64{5000, 0}, "1 lines, 0.1", "a network of its own"}}},
		"two low ends":       {[]Line{stem, left, right}, []one{{LooseBranch, "right", [2]float64{200, 0}, "water parts into lines right and left, and line right ends where nothing goes on", "flows as drawn: a share of what floats goes that way"}}},
		"two known low ends": {[]Line{stem, left, marked(right, MinorPath)}, []one{twoEnds}},
		"two named low ends": {[]Line{named(stem, "1", "2"), named(left, "2", "3"), named(right, "2", "4")}, []one{twoEnds}},
		"drawn from its mouth up": {[]Line{ordered(stem, 2), ordered(low, 3), ordered(g.line("x", 0, 600, 200, 700), 1), g.line("y", 200, 700, 300, 900)},
			[]one{{LooseBranch, "y", [2]float64{300, 900}, "water parts into lines x and low, and line y ends where nothing goes on; the recorded order of line x, 1, is below that of the line above, 2, as of a tributary drawn against the flow", "flows as drawn"}}},
		"shares that miss 1": {[]Line{stem, withShare(left, 0.5), withShare(right, 0.3)}, []one{
			{SharesNormalised, "left right", [2]float64{0, 600}, "the shares add up to 0.8", "scaled to add up to 1"}, twoEnds}},
		"shares of nothing": {[]Line{stem, withShare(left, 0), withShare(right, 0)}, []one{
			{SharesNormalised, "left right", [2]float64{0, 600}, "the shares add up to 0", "divided equally"}, twoEnds}},
		"a share missing": {[]Line{stem, withShare(left, 0.7), right}, []one{
			{SharesIncomplete, "left right", [2]float64{0, 600}, "1 of 2 branches have no share", "divided equally among them"}, twoEnds}},
		"two mains": {[]Line{stem, marked(left, MainPath), marked(right, MainPath)}, []one{
			{TwoMains, "left right", [2]float64{0, 600}, "2 branches are marked as the main path", "largest share"}, twoEnds}},
		"a catchment missing": {[]Line{withArea(stem, 3), low},
			[]one{{AreaMissing, "low", [2]float64{0, 600}, "1 lines have no catchment", "lower bounds"}}},
		"one name twice": {[]Line{g.line("x", 0, 900, 0, 600), g.line("x", 0, 600, 0, 0)},
			[]one{{RepeatedName, "x x", [2]float64{0, 900}, `two lines are named "x"`, "both kept"}}},
		"an unknown divergence": {[]Line{stem, marked(low, 9)},
			[]one{{UnknownDivergence, "low", [2]float64{0, 600}, "line low has divergence 9", "read as 0"}}},
		"sound": {[]Line{stem, low}, nil},
	}
}

// fan returns n lines, all but one of which meet at one place.
func fan(g ground, n int) []Line {
	lines := []Line{g.line("r00", 0, 600, 0, 0)}
	for i := 1; i < n; i++ {
		lines = append(lines, g.line(fmt.Sprintf("r%02d", i), float64(100*(i-n/2)), 900, 0, 600))
	}
	return lines
}

// uphill returns a tree of four heads digitised against the flow; record sets the recorded values
// of each line from its true order.
func uphill(g ground, record func(l *Line, order int)) []Line {
	lines := []Line{
		g.line("a", 0, 0, 0, 300), g.line("b", 0, 300, -200, 600), g.line("c", 0, 300, 200, 600), g.line("d", -200, 600, -300, 900),
		g.line("e", -200, 600, -100, 1000), g.line("f", 200, 600, 100, 900), g.line("g", 200, 600, 300, 900),
	}
	for i, order := range []int{3, 2, 2, 1, 1, 1, 1} {
		record(&lines[i], order)
	}
	return lines
}

// TestUpstream: a tree digitised against the flow, read with Upstream, equals the tree digitised
// along it: by hand. TestCloseGap: a gap no wider than the setting becomes one place.
func TestUpstream(t *testing.T) {
	n, troubles := Build(uphill(grounds[0], func(*Line, int) {}), Options{Snap: 1, Upstream: true})
	if len(troubles) != 0 {
		t.Fatal(troubles)
	}
	low := n.Edges[len(n.Edges)-1]
	if low.Line != 0 || low.Order != 3 || !low.Flipped || len(n.Out(low.To)) != 0 || n.Components != 1 {
		t.Errorf("%+v", low)
	}
}

func TestCloseGap(t *testing.T) {
	g := grounds[0]
	lines := []Line{g.line("stem", 0, 900, 0, 600), g.line("x", 0, 560, 5, 0)}
	for _, c := range []struct {
		close geo.Meters
		kind  string
		parts int
	}{{0, GapOpen, 2}, {39, GapOpen, 2}, {41, GapClosed, 1}} {
		n, troubles := Build(lines, Options{Snap: 1, CloseGap: c.close})
		if len(troubles) != 1 || troubles[0].Kind != c.kind || n.Components != c.parts {
			t.Errorf("closing %g m: %v, %d parts", float64(c.close), troubles, n.Components)
		}
	}
}

// TestAGapAtTheFirstEnd: an end faces another whichever line comes first, including the very first
// end of all.
func TestAGapAtTheFirstEnd(t *testing.T) {
	g := grounds[0]
	for _, names := range [][2]string{{"a", "z"}, {"z", "a"}} {
		lines := []Line{g.line(names[0], 0, 560, 5, 0), g.line(names[1], 0, 900, 0, 600)}
		n, troubles := Build(lines, Options{Snap: 1, CloseGap: 41})
		if len(troubles) != 1 || troubles[0].Kind != GapClosed || n.Components != 1 {
			t.Errorf("%v: %v, %d parts", names, troubles, n.Components)
		}
	}
}

// TestEveryTrouble checks place, lines, message and repair of every kind of trouble, and that
// nothing else is reported, at every ground.
func TestEveryTrouble(t *testing.T) {
	seen := map[string]bool{BraidTooLarge: true} // TestBraidTooLarge
	for _, g := range grounds {
		for name, c := range troubleCases(g) {
			t.Run(g.name+"/"+name, func(t *testing.T) {
				_, troubles := Build(c.lines, DefaultOptions())
				if len(troubles) != len(c.want) {
					t.Fatalf("told of %v, want %v", troubles, c.want)
				}
				for i, w := range c.want {
					seen[w.kind] = true
					checkTrouble(t, g, c.lines, troubles[i], w)
				}
			})
		}
	}
	for _, kind := range []string{GapClosed, TJunction, ZeroLength, Unusable, SelfCrossing, EndsApart, ReversedDirection, CycleCut, Dangle,
		Island, GapOpen, Crossing, AllAgainst, ManyMeet, TwoOutlets, LooseBranch, SharesNormalised, SharesIncomplete, TwoMains, AreaMissing, BraidTooLarge, RepeatedName, UnknownDivergence} {
		if !seen[kind] {
			t.Errorf("no case for %s", kind)
		}
	}
}

// checkTrouble compares one trouble with the expected one; positions to 2 m, since either end of a
// gap may be given.
func checkTrouble(t *testing.T, g ground, lines []Line, got Trouble, w one) {
	t.Helper()
	var names []string
	for _, i := range got.Lines {
		names = append(names, lines[i].Name)
	}
	slices.Sort(names)
	if got.Kind != w.kind || strings.Join(names, " ") != w.lines {
		t.Errorf("%s of %v, want %s of %s", got.Kind, names, w.kind, w.lines)
	}
	if d := metresApart(got.At, g.at(w.at[0], w.at[1])); d > 2 {
		t.Errorf("%s at %v, %g m from where it is", got.Kind, got.At, d)
	}
	if !strings.Contains(got.Message, w.message) || !strings.Contains(got.Repair, w.repair) {
		t.Errorf("%s: %q, %q; want %q, %q", got.Kind, got.Message, got.Repair, w.message, w.repair)
	}
}

// TestBraidTooLarge lowers the limit: inside the braid the totals are at most the exact ones and at
// least those along the best single path, and below its end they are exact again.
func TestBraidTooLarge(t *testing.T) {
	lines := append(lattice(12), plain("z", orb.Point{0.011, -0.011}, orb.Point{0.011, -0.02}))
	for i := range lines {
		lines[i].Area = geo.SquareKilometers(float64(i % 7))
	}
	exact, none := Build(lines, DefaultOptions())
	bound, troubles := build(&builder{lines: listed(lines), record: canonical(listed(lines)), options: DefaultOptions(), braidWork: 100})
	if slices.Contains(kinds(none), BraidTooLarge) {
		t.Fatal("12 by 12 nodes are too large for the usual bound")
	}
	if !slices.Contains(kinds(troubles), BraidTooLarge) {
		t.Fatalf("troubles %v", kinds(troubles))
	}
	last := edgeNamed(exact, lines, "z")
	near(t, "below the braid", bound.Edges[last].UpstreamKm, float64(exact.Edges[last].UpstreamKm), 1e-9)
	near(t, "area below the braid", bound.Edges[last].Drainage, float64(exact.Edges[last].Drainage), 1e-9)
	less := 0
	for e := range exact.Edges {
		x, b := &exact.Edges[e], &bound.Edges[e]
		path := geo.Kilometers(0)
		for _, up := range bound.In(b.From) {
			path = max(path, bound.Edges[up].UpstreamKm)
		}
		if b.UpstreamKm > x.UpstreamKm*(1+1e-12) || b.Drainage > x.Drainage*(1+1e-12) || b.UpstreamKm < (path+b.Length.Kilometers())*(1-1e-12) {
			t.Errorf("edge %d: %g km, exact %g, along one path %g", e, b.UpstreamKm, x.UpstreamKm, path)
		}
		less += count(b.UpstreamKm < x.UpstreamKm*(1-1e-9))
	}
	if less == 0 {
		t.Error("the bound changed nothing")
	}
}

// TestBoundsOfABraid: within a braid too large for exact totals what is above a confluence is the way with
// the most, of length and of area each. By hand: the stem is 1 km with 2 km2; two ways lead to the confluence, one of
// 3 km with 1 km2 and then 0.5 km with 0.25, one of 1 km with 5 km2 and then 0.5 with 0.25, and a third way passes it by.
func TestBoundsOfABraid(t *testing.T) {
	line := func(name, from, to string, length geo.Meters, area float64) Line {
		return withArea(byNode(name, from, to, length), area)
	}
	lines := []Line{
		line("stem", "1", "2", 1000, 2), line("long", "2", "3", 3000, 1), line("wide", "2", "4", 1000, 5), line("long end", "3", "5", 500, 0.25),
		line("wide end", "4", "5", 500, 0.25), line("inner", "5", "6", 2000, 0.5), line("by", "2", "6", 4000, 3), line("below", "6", "7", 1000, 1),
	}
	for work, want := range map[float64]map[string][2]float64{
		0:   {"inner": {1 + 3 + 2*0.5 + 2, 2 + 5 + 2*0.25 + 0.5}, "below": {13, 13}, "long end": {4.5, 3.25}, "wide end": {2.5, 7.25}},
		1e9: {"inner": {1 + 3 + 1 + 2*0.5 + 2, 2 + 1 + 5 + 2*0.25 + 0.5}, "below": {13, 13}},
	} {
		for _, lines := range [][]Line{lines, lines[:len(lines)-1]} { // with the line below the braid, and without it
			n, _ := build(&builder{lines: listed(lines), record: canonical(listed(lines)), options: DefaultOptions(), braidWork: work})
			for name, w := range want {
				if name == "below" && lines[len(lines)-1].Name != name {
					continue
				}
				e := n.Edges[edgeNamed(n, lines, name)]
				near(t, name+", km", float64(e.UpstreamKm), w[0], 1e-9)
				near(t, name+", km2", e.Drainage, w[1], 1e-9)
			}
		}
	}
}

// TestWorkInABraid: 12 by 12 nodes are 144 nodes with 264 edges, 144 / 64 * 264 = 594 steps. With
// that limit the totals are exact, with one less they are bounds.
func TestWorkInABraid(t *testing.T) {
	lines := lattice(12)
	for room, want := range map[float64]bool{594: false, 593: true} {
		_, troubles := build(&builder{lines: listed(lines), record: canonical(listed(lines)), options: DefaultOptions(), braidWork: room})
		if slices.Contains(kinds(troubles), BraidTooLarge) != want {
			t.Errorf("room for %g steps: %v", room, kinds(troubles))
		}
	}
}

// TestTroublesOfMoreThanOne: reports where several things meet, by hand. An end that points at two
// others is reported with the nearer. The two ends of one line that face each other are not a gap.
// Names are followed in one component while positions decide in another. A line without names
// counts the others that have none. A line with only node names, among lines where positions
// decide, has no length. A missing catchment on a line without a path has no position.
func TestTroublesOfMoreThanOne(t *testing.T) {
	for _, g := range grounds {
		upper, lower := named(g.line("a", 5000, 900, 5000, 600), "1", "2"), named(g.line("b", 5000.5, 600, 5000, 0), "2", "3")
		upper.Sequence, lower.Sequence = 1, 2 // names come first
		high, low := g.line("s", 0, 600, 0, 900), g.line("t", 0, 600, 0, 0)
		high.Sequence, low.Sequence = 2, 1
		for name, c := range map[string]struct {
			lines []Line
			want  []one
		}{
			"the nearer of two": {[]Line{g.line("stem", 0, 900, 0, 600), g.line("x", 6, 570, 2, 500, 300, 0), g.line("y", -6, 560, -6, 500, -300, 0)},
				[]one{{GapOpen, "stem x", [2]float64{0, 600}, "end 30.6 m apart", "left open"}}},
			"a line that faces itself": {[]Line{g.line("x", 0, 0, 0, -100, 300, -100, 300, 300, 0, 300, 0, 40)}, nil},
			"a gap beside names": {[]Line{upper, lower, g.line("x", 0, 900, 0, 600), g.line("y", 0.6, 600, 0, 0)},
				[]one{{GapClosed, "x y", [2]float64{0, 600}, "2 lines end up to 0.60 m apart", "joined"}}},
			"a sequence beside names": {[]Line{upper, lower, high, low},
				[]one{{ReversedDirection, "s", [2]float64{0, 900}, "digitised against its sequence", "turned round"}}},
			"three without names": {[]Line{named(g.line("a", 0, 900, 0, 600), "1", "2"), g.line("b", 0, 600, 0, 300), g.line("c", 0, 300, 0, 100), g.line("d", 0, 100, 0, 0)},
				[]one{{NamesIncomplete, "b c d", [2]float64{0, 600}, "line b has no node names, and lines that it joins have; nor have 2 more", "names are not followed"}}},
		} {
			t.Run(g.name+"/"+name, func(t *testing.T) {
				_, troubles := Build(c.lines, DefaultOptions())
				if len(troubles) != len(c.want) {
					t.Fatalf("told of %v, want %v", troubles, c.want)
				}
				for i, w := range c.want {
					checkTrouble(t, g, c.lines, troubles[i], w)
				}
			})
		}
	}
	g := grounds[0]
	_, troubles := Build([]Line{named(g.line("a", 0, 900, 0, 600), "1", "2"), byNode("z", "2", "3", 0), g.line("b", 0, 600, 0, 300)}, DefaultOptions())
	if !slices.Equal(kinds(troubles), []string{NamesIncomplete, ZeroLength}) || troubles[1].Message != "line z has no length" {
		t.Errorf("a line of names alone among positions: %v", troubles)
	}
	_, troubles = Build([]Line{withArea(byNode("a", "1", "2", 100), 3), byNode("b", "2", "3", 100)}, DefaultOptions())
	if !slices.Equal(kinds(troubles), []string{AreaMissing}) || troubles[0].At != (orb.Point{}) {
		t.Errorf("a catchment missing without a path: %v", troubles)
	}
}

// TestJunctionsNearAnEnd: lines that end beside a stem, within the snap distance of the stem and,
// measured along it, of its end, though not of the end itself, join that end. Two such lines within
// the snap distance of each other join one place. By hand.
func TestJunctionsNearAnEnd(t *testing.T) {
	for _, g := range grounds {
		stem := g.line("stem", 0, 900, 0, 0)
		for name, c := range map[string]struct {
			others []Line
			edges  int
		}{
			"above":   {[]Line{g.line("x", 300, 950, 0.8, 899.2)}, 1},
			"below":   {[]Line{g.line("x", 300, 50, 0.8, 0.8)}, 1},
			"between": {[]Line{g.line("x", 300, 600, 0.9, 500), g.line("y", -300, 600, -0.9, 500.5)}, 2},
			"apart":   {[]Line{g.line("x", 300, 600, 0.9, 500), g.line("y", -300, 600, -0.9, 501.5)}, 3},
		} {
			n, troubles := Build(append([]Line{stem}, c.others...), DefaultOptions())
			if got := len(n.EdgesOf(0)); got != c.edges || n.Components != 1 {
				t.Errorf("%s, %s: %d edges in %d parts, want %d in 1: %v", g.name, name, got, n.Components, c.edges, troubles)
			}
		}
	}
}

// TestNoSnap: without a snap distance only exactly equal positions are one place.
func TestNoSnap(t *testing.T) {
	g := grounds[1]
	for gap, parts := range map[float64]int{0: 1, 0.5: 2} {
		n, _ := Build([]Line{g.line("a", 0, 900, 0, 600), g.line("b", gap, 600, 0, 0)}, Options{})
		if n.Components != parts {
			t.Errorf("%g m apart: %d parts, want %d", gap, n.Components, parts)
		}
	}
}

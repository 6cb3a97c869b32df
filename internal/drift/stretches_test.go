package drift

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// drawStretches draws stretches of an edge of 12 m that begin in order, with ends on whole
// metres, so that they meet, overlap and lie inside each other.
func drawStretches(t *rapid.T, name string) []stretch {
	var out []stretch
	at := 0
	for range rapid.IntRange(0, 4).Draw(t, name) {
		at = rapid.IntRange(at, 11).Draw(t, "from")
		out = append(out, stretch{from: geo.Meters(at), to: geo.Meters(rapid.IntRange(at+1, 12).Draw(t, "to"))})
	}
	return out
}

// onSome says whether any of some stretches contains a place.
func onSome(stretches []stretch, at float64) bool {
	for _, s := range stretches {
		if at > float64(s.from) && at < float64(s.to) {
			return true
		}
	}
	return false
}

// apartInOrder fails where stretches are out of order, touch, or have no length.
func apartInOrder(t *rapid.T, what string, stretches []stretch) {
	for i, s := range stretches {
		if s.from >= s.to || i > 0 && s.from < stretches[i-1].to {
			t.Fatalf("%s: %v", what, stretches)
		}
	}
}

// TestStretchesByMetres: for stretches of whole metres: their union, the parts not covered by
// others, and the stretches where the total amount is above a floor, checked metre by metre.
func TestStretchesByMetres(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all, covered := drawStretches(t, "all"), drawStretches(t, "covered")
		covers := make([]timedCover, len(all))
		for i, s := range all {
			covers[i].from, covers[i].to = s.from, s.to
		}
		one := union(covers)
		apartInOrder(t, "union", one)
		var merged []stretch
		for _, s := range covered {
			merged = extend(merged, s.from, s.to)
		}
		rest := beyond(one, merged)
		apartInOrder(t, "beyond", rest)
		// an amount of 8 at metre 2 that halves every metre is above 1 for three metres
		floats := []stretch{{from: 0, to: 2, amount: 0.5}, {from: 2, to: 9, amount: 8}, {from: 9, to: 12, amount: 1}}
		both := summed(one, floats, math.Ln2, 1)
		apartInOrder(t, "summed", both)
		for metre := range 12 {
			at := float64(metre) + 0.5
			if got, want := onSome(one, at), onSome(all, at); got != want {
				t.Fatalf("union of %v at %g m: %v", all, at, got)
			}
			if got, want := onSome(rest, at), onSome(all, at) && !onSome(covered, at); got != want {
				t.Fatalf("%v without %v at %g m: %v, %v", all, covered, at, got, rest)
			}
			if got, want := onSome(both, at), onSome(all, at) || at > 2 && at < 5; got != want {
				t.Fatalf("%v and what floats at %g m: %v, %v", all, at, got, both)
			}
		}
	})
	if got := beyond([]stretch{{from: 0, to: 1}}, []stretch{{from: 0.0009, to: 0.0991}, {from: 0.0999, to: 1}}); len(got) != 0 {
		t.Errorf("less than a millimetre is kept: %v", got)
	}
	if got := beyond([]stretch{{from: 0, to: 1}}, []stretch{{from: 0.0011, to: 1}}); len(got) != 1 {
		t.Errorf("a millimetre and more is not: %v", got)
	}
}

// TestLevelsByPlaces: sources, and amounts that become too old, on an edge of 100 m, at whole
// tenths of it, often at the same place; the amount at any place is the sum over everything above
// it.
func TestLevelsByPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const rate = 0.01
		edge := &flow.Edge{Length: 100}
		inflow := rapid.Float64Range(0.1, 3).Draw(t, "inflow")
		var sources []drop
		at := 0
		for range rapid.IntRange(0, 4).Draw(t, "sources") {
			at = rapid.IntRange(at, 10).Draw(t, "at")
			sources = append(sources, drop{flow.Place{Offset: geo.Meters(10 * at)}, Amount(rapid.Float64Range(0.5, 2).Draw(t, "amount"))})
		}
		var drops []drop
		at = 0
		for range rapid.IntRange(0, 2).Draw(t, "drops") {
			at = rapid.IntRange(at, 10).Draw(t, "at")
			drops = append(drops, drop{flow.Place{Offset: geo.Meters(10 * at)}, 0.01})
		}
		got := levels(nil, edge, rate, Amount(inflow), sources, drops)
		for i, l := range got {
			end := geo.Meters(100)
			if i+1 < len(got) {
				end = got[i+1].from
			}
			if l.to != end {
				t.Fatalf("level %d ends at %g, the next begins at %g", i, l.to, end)
			}
			for _, x := range []float64{float64(l.from) + 0.01, (float64(l.from) + float64(l.to)) / 2} {
				if x >= float64(l.to) {
					continue
				}
				want := inflow * math.Exp(-rate*x)
				for _, s := range sources {
					if o := float64(s.at.Offset); o <= x {
						want += float64(s.amount) * math.Exp(-rate*(x-o))
					}
				}
				for _, d := range drops {
					if o := float64(d.at.Offset); o <= x {
						want -= float64(d.amount) * math.Exp(-rate*(x-o))
					}
				}
				is := float64(l.amount) * math.Exp(-rate*(x-float64(l.from)))
				if math.Abs(is-want) > 1e-9 {
					t.Fatalf("at %g m %g is afloat, want %g of %v, %v", x, is, want, sources, drops)
				}
			}
		}
	})
}

// TestClassesOfAPiece: an amount of 4 that halves every 10 m is high down to 1.5, moderate to 0.4
// and low below; by hand these are 10 log2(4/1.5) = 14.15 m and 10 log2(10) = 33.22 m. Two reached
// parts are cut separately, and where a level raises the amount within a class the piece continues.
func TestClassesOfAPiece(t *testing.T) {
	s := DefaultSettings()
	s.ExposureBreaks = [2]Amount{0.4, 1.5}
	rate := math.Ln2 / 10
	high, moderate := 10*math.Log2(4/1.5), 10*math.Log2(10)
	type want struct {
		from, to, amount float64
		class            Class
	}
	for name, test := range map[string]struct {
		levels, reached []stretch
		want            []want
	}{
		"all": {[]stretch{{from: 0, to: 100, amount: 4}}, []stretch{{from: 0, to: 100}},
			[]want{{0, high, 4, High}, {high, moderate, 1.5, Moderate}, {moderate, 100, 0.4, Low}}},
		"two parts": {[]stretch{{from: 0, to: 100, amount: 4}}, []stretch{{from: 5, to: 10}, {from: 20, to: 40}},
			[]want{{5, 10, 4 * math.Pow(2, -0.5), High}, {20, moderate, 1, Moderate}, {moderate, 40, 0.4, Low}}},
		"lifted within a class": {[]stretch{{from: 0, to: 10, amount: 4}, {from: 10, to: 100, amount: 3}}, []stretch{{from: 0, to: 15}},
			[]want{{0, 15, 4, High}}},
		"lifted higher within a class": {[]stretch{{from: 0, to: 10, amount: 4}, {from: 10, to: 100, amount: 5}}, []stretch{{from: 0, to: 15}},
			[]want{{0, 15, 5, High}}},
		"at a break it is below": {[]stretch{{from: 0, to: 50, amount: 1.5}}, []stretch{{from: 0, to: 1}}, []want{{0, 1, 1.5, Moderate}}},
		"nothing reached":        {[]stretch{{from: 0, to: 50, amount: 1.5}}, nil, nil},
	} {
		got := s.stretches(test.levels, PerMeter(rate), test.reached)
		if len(got) != len(test.want) {
			t.Errorf("%s: %v, want %v", name, got, test.want)
			continue
		}
		for i, w := range test.want {
			g := got[i]
			if math.Abs(float64(g.from)-w.from) > 1e-9 || math.Abs(float64(g.to)-w.to) > 1e-9 || math.Abs(float64(g.amount)-w.amount) > 1e-9 || g.class != w.class {
				t.Errorf("%s: piece %d is %+v, want %+v", name, i, g, w)
			}
		}
	}
}

// TestOneDrawIsTheBatch: without spread, one draw equals the batch itself in reach, exposure and
// stream at risk, on drawn networks with lakes, dry lines, an age limit, and breaks that only
// several stands together exceed.
func TestOneDrawIsTheBatch(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		const stands = 3
		net := drawNetwork(rt, t)
		net.Surfaces = []stream.Surface{{ID: "l", Kind: stream.Lake}}
		for e := range net.On {
			if net.On[e] = -1; rapid.IntRange(0, 4).Draw(rt, "on a lake") == 0 {
				net.On[e] = 0
			}
		}
		for i := range net.Lines {
			net.Lines[i].Permanence = rapid.SampledFrom([]stream.Permanence{stream.Perennial, stream.Perennial, stream.Ephemeral}).Draw(rt, "permanence")
		}
		s := DefaultSettings()
		s.Dry = map[stream.Permanence]bool{stream.Ephemeral: rapid.Bool().Draw(rt, "dry")}
		s.Viable = Days(rapid.SampledFrom([]float64{10, 0.05}).Draw(rt, "viable days"))
		s.ExposureBreaks = [2]Amount{0.3, 1}
		released := Released{Stands: stands, Sources: drawSources(rt, net, stands)}
		want := Follow(net, released, s, 1)
		got, err := Percentiles(context.Background(), net, s, Uncertain{Released: released, Setback: 30, Spread: Spread{Draws: 1, HalfDistanceGSD: 1, ReleaseGSD: 1}, Workers: 1})
		if err != nil {
			rt.Fatal(err)
		}
		if math.Abs(float64(got.AtRisk.P50-want.AtRiskKm)) > 1e-6 {
			rt.Fatalf("at risk %g km, the batch's %g", got.AtRisk.P50, want.AtRiskKm)
		}
		for i, o := range want.Outcomes {
			if math.Abs(float64(got.Reach[i].P50-o.ReachKm)) > 1e-5 || math.Abs(float64(got.Exposure[i].P50-o.Exposure)) > float64(1e-5*max(1, o.Exposure)) {
				rt.Fatalf("stand %d: %g km and %g, the batch's %g and %g", i, got.Reach[i].P50, got.Exposure[i].P50, o.ReachKm, o.Exposure)
			}
		}
	})
}

// TestSpreadAtTheEdge: the stated defaults; values at the limits of a range are accepted.
func TestSpreadAtTheEdge(t *testing.T) {
	if got := DefaultSpread(); got != (Spread{Draws: 200, Seed: 1, HalfDistanceGSD: 1.6, PassSpread: 0.5, ReleaseGSD: 2, Setback: 10}) {
		t.Errorf("%+v", got)
	}
	for _, s := range []Spread{{HalfDistanceGSD: 1, ReleaseGSD: 1}, {Draws: 10_000, HalfDistanceGSD: 1, ReleaseGSD: 1, PassSpread: 1, Setback: 0.5}} {
		if err := s.Validate(); err != nil {
			t.Errorf("%+v: %v", s, err)
		}
	}
	for _, s := range []Spread{
		{Draws: 10_001, HalfDistanceGSD: 1, ReleaseGSD: 1}, {HalfDistanceGSD: 0.99, ReleaseGSD: 1}, {HalfDistanceGSD: 1, ReleaseGSD: 0.99},
		{HalfDistanceGSD: 1, ReleaseGSD: 1, PassSpread: -0.01}, {HalfDistanceGSD: 1, ReleaseGSD: 1, PassSpread: 1.01}, {HalfDistanceGSD: 1, ReleaseGSD: 1, Setback: -0.5},
	} {
		if s.Validate() == nil {
			t.Errorf("%+v is taken", s)
		}
	}
}

// TestWordsOfRungs: each source of a velocity has a name and an error, as printed beside every
// reach.
func TestWordsOfRungs(t *testing.T) {
	for rung, want := range map[Rung][2]string{
		Recorded: {"recorded velocity", "as measured"}, JobsonSlope: {"Jobson 1996 with slope", "standard error about 100 %"},
		JobsonNoSlope: {"Jobson 1996 without slope", "standard error about 100 %"}, ByOrder: {"assumed velocity by stream order", "assumed, error unknown"},
		PowerLaw: {"discharge power law", "a regression over many streams, any one may lie a factor of 2 off"},
	} {
		if rung.String() != want[0] || rung.PublishedError() != want[1] {
			t.Errorf("%d: %q, %q", rung, rung, rung.PublishedError())
		}
	}
}

// TestStretchesInOrder: pieces in any order are returned downstream.
func TestStretchesInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pieces []stretch
		for _, from := range rapid.Permutation([]int{0, 1, 2, 3, 4, 5, 6, 7}).Draw(t, "order") {
			pieces = append(pieces, stretch{from: geo.Meters(from), to: geo.Meters(from) + 1})
		}
		for i, s := range sorted(pieces) {
			if s.from != geo.Meters(i) {
				t.Fatalf("%v", pieces)
			}
		}
	})
}

package drift

import (
	"context"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/stream"
)

// In a flood of ten times the discharge, water is 10^0.34 = 2.187762 times as fast (Leopold and
// Maddock 1953; the power by hand), with a recorded velocity too; a dam with a pass share of 0.3,
// overtopped by half of the rest, passes 0.65; one with a recorded 0.2 passes 0.6.
func TestFloodWater(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 3.6, barrier: stream.Dam}, channel{id: "b", from: 2, to: 3, km: 3.6, barrier: stream.Dam}, channel{id: "c", from: 3, to: 4, km: 3.6})
	net.Lines[1].MeanVelocity, net.Lines[1].BarrierPass = 1.7, 0.2
	s := halfKilometre()
	s.HalfDistanceByOrder, s.VelocityByOrder = []geo.Kilometers{1e6}, []geo.MetersPerSecond{0.85}
	s.VelocityFactor, s.Overtop = FloodVelocity(10), map[string]geo.Share{"dam": 0.5}
	got := Follow(net, Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 0), Amount: 1}}}, s, 1)
	if left := got.Outcomes[0].Left; math.Abs(float64(left-0.65*0.6)) > 1e-4 {
		t.Errorf("left %g, want 0.65 x 0.6", left)
	}
	hours := 0.0
	for i, own := range []float64{1, 0.5, 1} { // at base flow, one hour for 3.6 km at 0.85 m/s
		hours += own / 2.187762
		if r := got.Reaches[i]; math.Abs(float64(r.HoursMean)-hours) > 1e-6 || math.Abs(float64(r.HoursFast)-0.89*hours) > 1e-6 {
			t.Errorf("piece %d: %g and %g hours, want %g and 0.89 of it", i, r.HoursMean, r.HoursFast, hours)
		}
	}
}

// A dry branch takes nothing and the other branch everything; a release on it stays; where
// everything below is dry, everything settles there. By hand, half settling every km.
func TestDryLines(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 1}, channel{id: "b", from: 2, to: 3, km: 1}, channel{id: "c", from: 2, to: 3, km: 1}, channel{id: "d", from: 3, to: 4, km: 1})
	net.Lines[1].Permanence = stream.Ephemeral
	released := Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 0), Amount: 1}, {Stand: 1, Place: place(net, "b", 0.5), Amount: 2},
	}}
	s := halfKilometre()
	s.Dry = map[stream.Permanence]bool{stream.Ephemeral: true}
	got := Follow(net, released, s, 1)
	if o := got.Outcomes[0]; math.Abs(float64(o.ReachKm)-3) > 1e-9 || math.Abs(float64(o.PossibleKm)-3) > 1e-9 || math.Abs(float64(o.Left-0.125)) > 1e-12 || len(o.Reached) != 0 {
		t.Errorf("%+v", o)
	}
	if o := got.Outcomes[1]; o.Released != 2 || o.Settled != 2 || o.ReachKm != 0 || o.Exposure != 0 || math.Abs(float64(o.RiverKm)-1.5) > 1e-9 {
		t.Errorf("on the dry bed: %+v", o)
	}
	if diff := cmp.Diff(Balance{Released: 3, Settled: 2.875, Left: 0.125}, got.Balance, approx); diff != "" {
		t.Errorf("balance: (-want +got)\n%s", diff)
	}
	net.Lines[3].Permanence = stream.Ephemeral
	got = Follow(net, released, s, 1)
	if diff := cmp.Diff(Balance{Released: 3, Settled: 3}, got.Balance, approx); diff != "" {
		t.Errorf("all dry below: (-want +got)\n%s", diff)
	}
	if o := got.Outcomes[0]; math.Abs(float64(o.ReachKm)-2) > 1e-9 {
		t.Errorf("all dry below: reach %g km, want 2", o.ReachKm)
	}
	u := Uncertain{Released: released, Setback: 30, Spread: Spread{Draws: 3, HalfDistanceGSD: 1, ReleaseGSD: 1}, Workers: 1}
	bands, err := Percentiles(context.Background(), net, s, u)
	if err != nil || math.Abs(float64(bands.AtRisk.P50-got.AtRiskKm)) > 1e-6 || bands.Reach[1].P90 != 0 {
		t.Errorf("%v, %+v", err, bands)
	}
}

// With dry lines anywhere, with and without an age limit, the mass balance closes.
func TestDryLinesBalance(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		for i := range net.Lines {
			net.Lines[i].Permanence = rapid.SampledFrom([]stream.Permanence{stream.Perennial, stream.Intermittent, stream.Ephemeral}).Draw(rt, "permanence")
		}
		s := DefaultSettings()
		s.Dry = map[stream.Permanence]bool{stream.Ephemeral: true}
		s.Viable = Days(rapid.SampledFrom([]float64{10, 0.05}).Draw(rt, "viable days"))
		got := Follow(net, Released{Stands: 3, Sources: drawSources(rt, net, 3)}, s, 1)
		for _, r := range got.Reaches {
			if net.Lines[r.Line].Permanence == stream.Ephemeral {
				rt.Fatalf("%+v lies on a dry line", r)
			}
		}
		var sum Balance
		for _, o := range got.Outcomes {
			sum.add(o)
		}
		if diff := cmp.Diff(sum, got.Balance, approx); diff != "" {
			rt.Fatalf("balance: (-by stand +got)\n%s", diff)
		}
		if b := got.Balance; math.Abs(float64(b.Settled+b.Held+b.Aged+b.Left-b.Released)) > float64(1e-9*b.Released) {
			rt.Fatalf("%+v does not add up", b)
		}
	})
}

// TestRiverKmOnADryBed: a stand's river km is that of its lowest source: of two sources on a dry
// bed, in any order, and of one on water and one on a dry bed. By hand, on a line of 4 km above one
// of 2 km.
func TestRiverKmOnADryBed(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 4}, channel{id: "b", from: 2, to: 3, km: 2})
	s := halfKilometre()
	s.Dry = map[stream.Permanence]bool{stream.Ephemeral: true}
	at := func(line string, km float64) Source { return Source{Place: place(net, line, km), Amount: 1} }
	for _, test := range []struct {
		dry     string
		sources []Source
		want    geo.Kilometers
	}{
		{"a", []Source{at("a", 1), at("a", 3)}, 3}, {"a", []Source{at("a", 3), at("a", 1)}, 3}, {"a", []Source{at("a", 1), at("b", 1.5)}, 0.5}, {"b", []Source{at("a", 1), at("b", 1.5)}, 0.5}, {"a", []Source{at("a", 1)}, 5},
	} {
		for i := range net.Lines {
			net.Lines[i].Permanence = map[bool]stream.Permanence{true: stream.Ephemeral, false: stream.Perennial}[net.Lines[i].ID == test.dry]
		}
		got := Follow(net, Released{Stands: 1, Sources: test.sources}, s, 1)
		if km := got.Outcomes[0].RiverKm; math.Abs(float64(km-test.want)) > 1e-9 {
			t.Errorf("%s dry, %v: %g km, want %g", test.dry, test.sources, float64(km), float64(test.want))
		}
	}
}

package drift

import (
	"context"
	"math"
	"slices"
	"testing"

	"driftreach/geo"
	"driftreach/internal/stream"
)

// lakeNet is a stream a that runs through a lake, where b joins it from an arm, and out over a dam:
// edges a, b, in (0.6 km on the lake), arm (0.4 km on the lake, below b), out (0.5 km on the lake),
// stub (50 m to the dam), below.
func lakeNet(t *testing.T, kind stream.SurfaceKind) *stream.Network {
	net := network(t,
		channel{id: "a", from: 1, to: 2, km: 0.35, order: 1}, channel{id: "b", from: 3, to: 4, km: 1, order: 1},
		channel{id: "in", from: 2, to: 5, km: 0.6, order: 1}, channel{id: "arm", from: 4, to: 5, km: 0.4, order: 1},
		channel{id: "out", from: 5, to: 6, km: 0.5, order: 1}, channel{id: "stub", from: 6, to: 7, km: 0.05, order: 1, barrier: stream.Dam},
		channel{id: "below", from: 7, to: 8, km: 9, order: 1})
	net.Surfaces = []stream.Surface{{ID: "l", Kind: kind}}
	for e := range net.On {
		switch net.Lines[net.Net.Edges[e].Line].ID {
		case "in", "arm", "out":
			net.On[e] = 0
		}
	}
	return net
}

// TestLake: by hand. Of a unit released at the head of a, half arrives at the lake. Nothing more is
// lost on it, three tenths of that pass its outlet, and the dam below passes everything. Some is
// lost on the stub; the rest reaches on down to a twentieth. All of the lake is at risk, including
// the arm, which no water from a enters.
func TestLake(t *testing.T) {
	net := lakeNet(t, stream.Lake)
	s := DefaultSettings()
	d := Follow(net, Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 0), Amount: 1}, {Stand: 1, Place: place(net, "arm", 0.2), Amount: 1},
	}}, s, 1)
	const half = 0.35
	beyond := half * math.Log2(0.5*0.3/0.05)
	if got, want := float64(d.Outcomes[0].ReachKm), 0.35+0.6+0.4+0.5+beyond; math.Abs(got-want) > 1e-6 {
		t.Errorf("reach %g km, want %g", got, want)
	}
	if got, want := d.Outcomes[0].Held, 0.5*0.7; math.Abs(float64(got)-want) > 1e-6 {
		t.Errorf("held %g, want %g", got, want)
	}
	if got, want := float64(d.Outcomes[1].ReachKm), 0.6+0.4+0.5+half*math.Log2(0.3/0.05); math.Abs(got-want) > 1e-6 {
		t.Errorf("from the arm %g km, want %g", got, want)
	}
	if r := d.Outcomes[0].Reached; len(r) != 1 || r[0] != 1 {
		t.Errorf("the stand on the arm is not reached: %v", r)
	}
	b := d.Balance
	if math.Abs(float64(b.Released-b.Settled-b.Held-b.Aged-b.Left)) > 1e-9 {
		t.Errorf("balance: %+v", b)
	}
	if want := 0.35 + 0.6 + 0.4 + 0.5 + half*math.Log2(0.3/0.05); math.Abs(float64(d.AtRiskKm)-want) > 0.5 || float64(d.AtRiskKm) < want-1e-6 {
		t.Errorf("at risk %g km, from single sources %g", d.AtRiskKm, want)
	}
	bands, err := Percentiles(context.Background(), net, s, Uncertain{Released: Released{Stands: 2, Sources: []Source{
		{Stand: 0, Place: place(net, "a", 0), Amount: 1}, {Stand: 1, Place: place(net, "arm", 0.2), Amount: 1},
	}}, Setback: 30, Spread: Spread{Draws: 1, HalfDistanceGSD: 1, ReleaseGSD: 1}})
	if err != nil || math.Abs(float64(bands.Reach[0].P50-d.Outcomes[0].ReachKm)) > 1e-5 || math.Abs(float64(bands.AtRisk.P50-d.AtRiskKm)) > 1e-5 {
		t.Errorf("one draw without spread: %+v, want %g and %g", bands, d.Outcomes[0].ReachKm, d.AtRiskKm)
	}
}

// TestHoursOnALake: by hand. Over a, 350 m at 0.2 / 0.85 m/s, it takes 0.41319 h to the lake, and
// the same to any shore of it; the leading edge takes 0.890 of that.
func TestHoursOnALake(t *testing.T) {
	net := lakeNet(t, stream.Lake)
	d := Follow(net, Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 0), Amount: 1}}}, DefaultSettings(), 1)
	seen := 0
	for _, r := range d.Reaches {
		switch net.Lines[r.Line].ID {
		case "in", "arm", "out":
			seen++
			if math.Abs(float64(r.HoursMean)-0.4131944) > 1e-6 || math.Abs(float64(r.HoursFast)-0.890*0.4131944) > 1e-6 {
				t.Errorf("%s: %g h, the first %g h", net.Lines[r.Line].ID, r.HoursMean, r.HoursFast)
			}
		}
	}
	if seen != 3 {
		t.Errorf("%d pieces on the lake, want 3", seen)
	}
}

// TestWideRiverKeepsFlowing: a surface that is a river changes nothing of the drift.
func TestWideRiverKeepsFlowing(t *testing.T) {
	net, bare := lakeNet(t, stream.River), lakeNet(t, stream.River)
	for e := range bare.On {
		bare.On[e] = -1
	}
	released := func(net *stream.Network) Released {
		return Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 0), Amount: 1}}}
	}
	x, y := Follow(net, released(net), DefaultSettings(), 1), Follow(bare, released(bare), DefaultSettings(), 1)
	if x.Outcomes[0].ReachKm != y.Outcomes[0].ReachKm || x.Balance != y.Balance {
		t.Errorf("%+v, want %+v", x.Balance, y.Balance)
	}
}

// TestDamOfALake: a pass share recorded for the dam at a lake's end replaces the lake's, and a dam
// farther below still holds its own share: by hand.
func TestDamOfALake(t *testing.T) {
	net := lakeNet(t, stream.Lake)
	for i := range net.Lines {
		if net.Lines[i].ID == "stub" {
			net.Lines[i].BarrierPass = 0.8
		}
	}
	out, stub := place(net, "out", 0).Edge, place(net, "stub", 0).Edge
	if tr, _ := transport(net, DefaultSettings()); tr.Pass[out] != 0.8 || tr.Pass[stub] != 1 {
		t.Errorf("lake passes %g, its dam %g", tr.Pass[out], tr.Pass[stub])
	}
	net.Net.Edges[stub].Length = 150
	if tr, _ := transport(net, DefaultSettings()); tr.Pass[out] != 0.3 || tr.Pass[stub] != 0.8 {
		t.Errorf("lake passes %g, a dam 150 m below %g", tr.Pass[out], tr.Pass[stub])
	}
}

// on puts lines of a network on one lake.
func on(net *stream.Network, ids ...string) *stream.Network {
	net.Surfaces = []stream.Surface{{ID: "l", Kind: stream.Lake}}
	for e := range net.On {
		net.On[e] = -1
		if slices.Contains(ids, net.Lines[net.Net.Edges[e].Line].ID) {
			net.On[e] = 0
		}
	}
	return net
}

// heldBy checks what is held and what leaves, of a unit released at the head of a, by every method.
func heldBy(t *testing.T, net *stream.Network, held, left float64) {
	t.Helper()
	s := DefaultSettings()
	s.HalfDistanceByOrder = []geo.Kilometers{1}
	released := Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 0), Amount: 1}}}
	d := Follow(net, released, s, 1)
	b := d.Balance
	if math.Abs(float64(b.Held)-held) > 1e-6 || math.Abs(float64(b.Left)-left) > 1e-6 || math.Abs(float64(b.Released-b.Settled-b.Held-b.Aged-b.Left)) > 1e-9 {
		t.Errorf("balance %+v, want %g held, %g left", b, held, left)
	}
	if o := d.Outcomes[0]; math.Abs(float64(o.Held)-held) > 1e-6 || math.Abs(float64(o.Left)-left) > 1e-6 {
		t.Errorf("the stand's: held %g, left %g, want %g and %g", o.Held, o.Left, held, left)
	}
	// with an age limit, packets are followed one by one
	s.Viable = 3
	if o := Follow(net, released, s, 1).Outcomes[0]; math.Abs(float64(o.Held)-held) > 1e-6 || math.Abs(float64(o.Released-o.Settled-o.Held-o.Aged-o.Left)) > 1e-9 {
		t.Errorf("with an age limit: held %g of %+v, want %g", o.Held, o, held)
	}
	bands, err := Percentiles(context.Background(), net, DefaultSettings(), Uncertain{Released: released, Setback: 30, Spread: Spread{Draws: 1, HalfDistanceGSD: 1, ReleaseGSD: 1}})
	if d := Follow(net, released, DefaultSettings(), 1); err != nil || math.Abs(float64(bands.Reach[0].P50-d.Outcomes[0].ReachKm)) > 1e-5 || math.Abs(float64(bands.Exposure[0].P50/d.Outcomes[0].Exposure-1)) > 1e-5 {
		t.Errorf("one draw without spread: %+v, want %g km", bands, d.Outcomes[0].ReachKm)
	}
}

// TestStreamComesBackToALake: by hand, half-distance 1 km. A stream that leaves a lake and returns
// to it is held once, where it leaves for good: a quarter returns, three tenths of that pass.
func TestStreamComesBackToALake(t *testing.T) {
	net := on(network(t,
		channel{id: "a", from: 1, to: 2, km: 1, order: 1}, channel{id: "first", from: 2, to: 3, km: 0.6, order: 1},
		channel{id: "neck", from: 3, to: 4, km: 1, order: 1}, channel{id: "second", from: 4, to: 5, km: 0.4, order: 1},
		channel{id: "below", from: 5, to: 6, km: 1, order: 1}), "first", "second")
	heldBy(t, net, 0.25*0.7, 0.25*0.3*0.5)
}

// TestBranchPartsAtTheShore: by hand, half-distance 1 km. Half arrives at the lake; at the shore
// two fifths of it leave by a branch, the rest stays on the lake and leaves by its outlet. Each
// part is held there once.
func TestBranchPartsAtTheShore(t *testing.T) {
	net := on(network(t,
		channel{id: "a", from: 1, to: 2, km: 1, order: 1}, channel{id: "in", from: 2, to: 3, km: 0.6, order: 1},
		channel{id: "branch", from: 3, to: 6, km: 2, order: 1, share: 0.4}, channel{id: "out", from: 3, to: 5, km: 0.4, order: 1, share: 0.6},
		channel{id: "below", from: 5, to: 6, km: 1, order: 1}), "in", "out")
	heldBy(t, net, 0.5*0.7, 0.5*0.3*(0.4*0.25+0.6*0.5))
	// nothing is held of a release on the branch
	d := Follow(net, Released{Stands: 1, Sources: []Source{{Place: place(net, "branch", 0), Amount: 1}}}, DefaultSettings(), 1)
	if d.Balance.Held != 0 {
		t.Errorf("held %g of what stands on the branch", d.Balance.Held)
	}
}

// TestBranchComesBackToALake: by hand, half-distance 1 km. A branch that leaves at the shore and
// returns is not held where it leaves.
func TestBranchComesBackToALake(t *testing.T) {
	net := on(network(t,
		channel{id: "a", from: 1, to: 2, km: 1, order: 1}, channel{id: "in", from: 2, to: 3, km: 0.6, order: 1},
		channel{id: "branch", from: 3, to: 5, km: 1, order: 1, share: 0.4}, channel{id: "through", from: 3, to: 5, km: 0.4, order: 1, share: 0.6},
		channel{id: "out", from: 5, to: 6, km: 0.3, order: 1}, channel{id: "below", from: 6, to: 7, km: 1, order: 1}), "in", "through", "out")
	comes := 0.5 * (0.6 + 0.4*0.5)
	heldBy(t, net, comes*0.7, comes*0.3*0.5)
}

// TestDamInsideTheShore: a dam on the lake up to 100 m above its outlet belongs to the lake, since
// shores are drawn past dam walls.
func TestDamInsideTheShore(t *testing.T) {
	net := on(network(t,
		channel{id: "a", from: 1, to: 2, km: 1, order: 1}, channel{id: "in", from: 2, to: 3, km: 0.6, order: 1, barrier: stream.Dam},
		channel{id: "out", from: 3, to: 4, km: 0.05, order: 1}, channel{id: "below", from: 4, to: 5, km: 1, order: 1}), "in", "out")
	for i := range net.Lines {
		if net.Lines[i].ID == "in" {
			net.Lines[i].BarrierPass = 0.8
		}
	}
	heldBy(t, net, 0.5*0.2, 0.5*0.8*0.5)
	net.Net.Edges[place(net, "out", 0).Edge].Length = 150
	heldBy(t, net, 0.5*0.7, 0.5*0.3*0.5)
}

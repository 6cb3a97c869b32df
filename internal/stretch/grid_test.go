package stretch

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/drift"
	"driftreach/internal/stream"
)

// The cells of a grid are those that Find uses: they cover the network once, each place is in its
// own cell, and what a batch stores of a bank is returned by cell.
func TestGridIsWhatFindLooksAt(t *testing.T) {
	net, s := y(t), DefaultSettings()
	g := NewGrid(net, s)
	length, all := geo.Meters(0), geo.Meters(0)
	for i := range g.Cells {
		length += g.Cells[i].Length
		if at := g.At(g.Cells[i].Middle); at != int32(i) {
			t.Errorf("the middle of cell %d lies in cell %d", i, at)
		}
	}
	for e := range net.Net.Edges {
		all += net.Net.Edges[e].Length
		if on := g.On(flow.Piece{Edge: int32(e), To: net.Net.Edges[e].Length}); len(on) == 0 {
			t.Errorf("no cell on edge %d", e)
		}
	}
	if d := length - all; d > 1e-6 || d < -1e-6 {
		t.Errorf("cells of %g m on %g m", float64(length), float64(all))
	}

	d := drift.Afloat(net, drift.Released{Stands: 1, Sources: []drift.Source{{Place: flow.Place{Offset: 500}, Amount: 1}}}, drift.DefaultSettings())
	known := Known{Quarter: q1, Net: net, Half: make([]geo.Meters, len(net.Net.Edges)), Drift: &d, Now: nowhere}
	m := &Memory{Quarter: q1}
	for _, one := range Find(known, s) {
		m.Stretches = append(m.Stretches, Remembered{one.Path, one.Cells})
	}
	banks, ok := m.Banks(net, g)
	exposure := d.ExposureOn(net, g.Pieces())
	for i := range banks {
		want := float64(exposure[i]) / float64(g.Cells[i].Length.Kilometers())
		if got := banks[i][0].Exposure; !ok[i] || float64(got) < 0.999*want-1e-9 || float64(got) > 1.001*want+1e-9 {
			t.Errorf("cell %d: %g, want %g", i, got, want)
		}
	}
	if g.At(flow.Place{Edge: -1}) != -1 {
		t.Error("nowhere is in a cell")
	}
}

// By hand on a stream of 1,000 m that runs south, in stretches of 250 m with cells of 50 m: what lies on
// a piece, the cell of a place, and the nearest stretch to one beside it. The stretches drawn for the
// list are those that Find draws.
func TestGridByHand(t *testing.T) {
	frame := earth.NewFrame(fork)
	net := network(t, span{"a", "", fork, frame.Inverse(orb.Point{0, -1000})})
	s := DefaultSettings()
	s.Length, s.ListShare, s.RandomShare = 0.2501, 1, 0.5
	g := NewGrid(net, s)
	if len(g.Stretches) != 4 || len(g.Cells) != 20 || len(g.Pieces()) != 20 || g.Pieces()[7] != g.Cells[7].Piece {
		t.Fatalf("%d stretches in %d cells", len(g.Stretches), len(g.Cells))
	}
	for offset, want := range map[geo.Meters]int32{0: 0, 49: 0, 51: 1, 499: 9, 501: 10, 999: 19, 5000: 19, -3: 0} {
		if got := g.At(flow.Place{Offset: offset}); got != want {
			t.Errorf("%g m down is in cell %d, want %d", float64(offset), got, want)
		}
	}
	for _, tt := range []struct {
		from, to    geo.Meters
		first, last int32
	}{{0, 1000, 0, 19}, {60, 140, 1, 2}, {60, 61, 1, 1}, {240, 260, 4, 5}} {
		on := g.On(flow.Piece{From: tt.from, To: tt.to})
		if len(on) != int(tt.last-tt.first)+1 || on[0] != tt.first || on[len(on)-1] != tt.last {
			t.Errorf("on %g to %g m: %v, want %d to %d", float64(tt.from), float64(tt.to), on, tt.first, tt.last)
		}
	}
	if on := g.On(flow.Piece{From: 100, To: 100}); len(on) > 1 {
		t.Errorf("on no length: %v", on)
	}
	for _, tt := range []struct {
		x, y    float64
		stretch int32
		away    float64
	}{{30, -100, 0, 30}, {-70, -600, 2, 70}, {0, -1040, 3, 40}, {0, 25, 0, 25}} {
		i, away, ok := g.Nearest(frame.Inverse(orb.Point{tt.x, tt.y}))
		if i != tt.stretch || math.Abs(float64(away)-tt.away) > 0.01 || !ok {
			t.Errorf("%g, %g: stretch %d, %g m, %v, want %d, %g", tt.x, tt.y, i, float64(away), ok, tt.stretch, tt.away)
		}
	}
	if _, _, ok := (&Grid{}).Nearest(fork); ok {
		t.Error("a stretch of none is nearest")
	}
	drawn, n := g.Sampled(s), 0
	for _, one := range Find(standless(net), s) {
		for i := range g.Stretches {
			if g.Stretches[i].ID == one.ID && drawn[i] != (one.Draw > 0) {
				t.Errorf("%s is drawn: %v", one.ID, drawn[i])
			}
		}
		if one.Draw > 0 {
			n++
		}
	}
	if n != 2 || g.Stretches[0].Draw != 0 {
		t.Errorf("%d drawn, want 2 of 4, and none of the grid's own", n)
	}
	if got := PointAt(net, flow.Place{Offset: 400}); math.Hypot(frame.Forward(got)[0], frame.Forward(got)[1]+400) > 0.01 {
		t.Errorf("400 m down is %v", frame.Forward(got))
	}
	var none Memory
	if _, ok := none.Banks(net, g); ok[0] {
		t.Error("a cell of no stretch of the last batch")
	}
}

// standless is a network without any stand.
func standless(net *stream.Network) Known {
	d := drift.Follow(net, drift.Released{}, drift.DefaultSettings(), 1)
	return Known{Quarter: q1, Net: net, Half: half(net), Drift: &d, Now: nowhere}
}

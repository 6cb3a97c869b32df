package stretch

import (
	"testing"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/drift"
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

package drift

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// One unit released 1 km down a line on which half settles every km: nothing above it; below it (1
// - 2^-x)/ln 2 unit km over x km. By hand.
func TestExposureOnAPiece(t *testing.T) {
	net := network(t, channel{id: "a", from: 1, to: 2, km: 5}, channel{id: "b", from: 2, to: 3, km: 5})
	got := Follow(net, Released{Stands: 1, Sources: []Source{{Place: place(net, "a", 1), Amount: 1}}}, halfKilometre(), 1)
	a, b := place(net, "a", 0).Edge, place(net, "b", 0).Edge
	pieces := []flow.Piece{
		{Edge: a, From: 0, To: 1000}, {Edge: a, From: 500, To: 2000}, {Edge: a, From: 2000, To: 3000},
		{Edge: b, From: 1000, To: 1000}, {Edge: b, From: 1000, To: 3000},
	}
	below := func(from, to float64) float64 { return (math.Exp2(-from) - math.Exp2(-to)) / math.Ln2 }
	for i, want := range []float64{0, below(0, 1), below(1, 2), 0, below(5, 7)} {
		if e := got.ExposureOn(net, pieces)[i]; math.Abs(float64(e)-want) > 1e-12 {
			t.Errorf("piece %d: %.12f, want %.12f", i, e, want)
		}
	}
}

// Pieces that cover any network once add up to the exposure of all stands, with ageing too, and a
// piece's exposure is the sum of its halves'.
func TestExposureOnEveryPiece(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		net := drawNetwork(rt, t)
		s := DefaultSettings()
		s.Viable = Days(rapid.SampledFrom([]float64{0.01, 0.1, 10}).Draw(rt, "viable days"))
		got := Follow(net, Released{Stands: 2, Sources: drawSources(rt, net, 2)}, s, 1)
		want := got.Outcomes[0].Exposure + got.Outcomes[1].Exposure
		pieces := piecesOfAll(net, 1+rapid.IntRange(0, 3).Draw(rt, "cuts"))
		sum := 0.0
		for _, e := range got.ExposureOn(net, pieces) {
			sum += float64(e)
		}
		if math.Abs(sum-float64(want)) > float64(1e-9*max(1, want)) {
			rt.Fatalf("%d pieces come to %.12f, all stands to %.12f", len(pieces), sum, want)
		}
	})
}

// On a lake the amount afloat is the same everywhere, and adds up to the exposure of all stands.
func TestExposureOnALake(t *testing.T) {
	net := lakeNet(t, stream.Lake)
	got := Follow(net, Released{Stands: 1, Sources: []Source{{Place: flow.Place{Edge: 0, Offset: 0}, Amount: 1}}}, halfKilometre(), 1)
	pieces := piecesOfAll(net, 2)
	perKm, sum := map[int32]float64{}, 0.0
	for i, e := range got.ExposureOn(net, pieces) {
		p := pieces[i]
		sum += float64(e)
		if net.On[p.Edge] < 0 {
			continue
		}
		density := float64(e) / float64((p.To - p.From).Kilometers())
		if was, met := perKm[net.On[p.Edge]]; met && math.Abs(density-was) > 1e-12 {
			t.Errorf("edge %d: %g afloat for each km, elsewhere on the lake %g", p.Edge, density, was)
		}
		perKm[net.On[p.Edge]] = density
	}
	if want := got.Outcomes[0].Exposure; math.Abs(sum-float64(want)) > 1e-9 || len(perKm) != 1 {
		t.Errorf("in all %g on %d lakes, want %g on one", sum, len(perKm), want)
	}
}

// piecesOfAll cuts every edge into so many equal pieces.
func piecesOfAll(net *stream.Network, parts int) []flow.Piece {
	var out []flow.Piece
	for e := range net.Net.Edges {
		for k := range parts {
			at := func(k int) geo.Meters { return net.Net.Edges[e].Length * geo.Meters(k) / geo.Meters(parts) }
			out = append(out, flow.Piece{Edge: int32(e), From: at(k), To: at(k + 1)})
		}
	}
	return out
}

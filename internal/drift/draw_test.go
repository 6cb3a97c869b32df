package drift

import (
	"context"
	"fmt"
	"math"
	"testing"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/stream"
)

// TestDrawsHoldAtABranchOffALake: by hand, half-distance 1 km. A stream ends where water leaves a
// lake by a branch, and continues down that branch, whose head passes only three tenths. The stream
// itself is on no lake; still, the pass share at the head varies by up to a half in the draws: with
// a share p the reach is 1 km, plus log2(p/0.05) less 1 km.
func TestDrawsHoldAtABranchOffALake(t *testing.T) {
	net := on(network(t,
		channel{id: "lake", from: 1, to: 3, km: 1, order: 1}, channel{id: "stream", from: 2, to: 3, km: 1, order: 1},
		channel{id: "shore", from: 3, to: 4, km: 1, order: 1}, channel{id: "branch", from: 3, to: 4, km: 9, order: 1},
		channel{id: "out", from: 4, to: 5, km: 9, order: 1}), "lake", "shore")
	s := halfKilometre()
	net.Lines[2].Permanence = stream.Ephemeral
	s.Dry = map[stream.Permanence]bool{stream.Ephemeral: true}
	bands, err := Percentiles(context.Background(), net, s, Uncertain{
		Released: Released{Stands: 1, Sources: []Source{{Place: place(net, "stream", 0), Amount: 1}}},
		Setback:  30, Spread: Spread{Draws: 1000, HalfDistanceGSD: 1, ReleaseGSD: 1, PassSpread: 0.5}, Workers: 2,
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, is := range []struct{ got, pass float64 }{
		{float64(bands.Reach[0].P10), 0.6 * 0.3}, {float64(bands.Reach[0].P50), 0.3}, {float64(bands.Reach[0].P90), 1.4 * 0.3},
	} {
		if want := 1 + math.Log2(0.5*is.pass/0.05); math.Abs(is.got-want) > 0.01 {
			t.Errorf("reach %g km, want %g of a share of %g", is.got, want, is.pass)
		}
	}
}

// BenchmarkPercentiles computes 50 draws of a valley of a thousand lines that join two by two, ten
// sources on each: without a barrier, and with one at every eighth line.
func BenchmarkPercentiles(b *testing.B) {
	for _, every := range []int{0, 8} {
		b.Run(fmt.Sprintf("barrier every %d", every), func(b *testing.B) {
			const lines = 1023
			var channels []channel
			for i := range lines {
				c := channel{id: fmt.Sprintf("l%04d", i), from: lines - i, to: (lines - i) / 2, km: 0.4}
				if every > 0 && i%every == 0 {
					c.barrier = stream.Weir
				}
				channels = append(channels, c)
			}
			net := network(b, channels...)
			var sources []Source
			for i := range 10 * lines {
				sources = append(sources, Source{Stand: int32(i / 20), Place: flow.Place{Edge: int32(i / 10), Offset: geo.Meters(40 * (i % 10))}, Amount: 1, Bank: geo.Meters(25 + i%10)})
			}
			u := Uncertain{Released: Released{Stands: lines/2 + 1, Sources: sources}, Setback: 30, Spread: DefaultSpread(), Workers: 1}
			u.Spread.Draws = 50
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Percentiles(context.Background(), net, DefaultSettings(), u); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

package drift

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/linear"
	"driftreach/internal/stream"
)

// elsewhere is a text that is not in memory.
type elsewhere string

func (e elsewhere) Part(_ []byte, from, n int) []byte { return []byte(e[from : from+n]) }

// TestFiguresElsewhere: the percentiles, and the draws that are kept, are to the last bit the same where the
// figures of the draws are put elsewhere. There are more stands, also of those followed
// in each draw, than are taken at a time.
func TestFiguresElsewhere(t *testing.T) {
	const lines, perLine = 63, 36
	for _, weirs := range []bool{false, true} {
		var channels []channel
		for i := range lines {
			c := channel{id: fmt.Sprintf("l%04d", i), from: lines - i, to: (lines - i) / 2, km: 0.4}
			if weirs && i%2 == 0 {
				c.barrier = stream.Weir
			}
			channels = append(channels, c)
		}
		net := network(t, channels...)
		u := Uncertain{Released: Released{Stands: lines * perLine}, Setback: 30, Spread: DefaultSpread(), Workers: 2, KeepDraws: true}
		u.Spread.Draws = 9
		for i := range u.Released.Stands {
			at := flow.Place{Edge: int32(i / perLine), Offset: geo.Meters(10 * (i % perLine))}
			u.Released.Sources = append(u.Released.Sources, Source{Stand: int32(i), Place: at, Amount: 1 + Amount(i%7), Bank: geo.Meters(20 + i%20)})
		}
		want, err := Percentiles(context.Background(), net, DefaultSettings(), u)
		if err != nil {
			t.Fatal(err)
		}
		if single := len(newEnsemble(net, DefaultSettings(), u, u.Released.inFlowOrder()).single); weirs && single <= standsTogether {
			t.Errorf("only %d stands are followed in each draw", single)
		}
		var texts atomic.Int32
		u.Put = func(text []byte) linear.Far {
			texts.Add(1)
			return elsewhere(text)
		}
		got, err := Percentiles(context.Background(), net, DefaultSettings(), u)
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("%v (-want +got)\n%s", err, diff)
		}
		if int(texts.Load()) != u.Spread.Draws || want.Reach[0].P50 <= 0 || want.Exposure[len(want.Exposure)-1].P90 <= 0 || u.Released.Stands <= 2*standsTogether {
			t.Errorf("%d texts, reaches %v and so on", texts.Load(), want.Reach[0])
		}
	}
}

package drift

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// TestStandsSuperpose: drift is linear (first-order retention along the water), so in drawn networks with
// braids and barriers what a stand does is the same whether others release too, and the balance of all is
// the sum of theirs. Eight times the amounts are eight times everything that is an amount, to the last
// bit, and change no length that comes of shares.
func TestStandsSuperpose(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		const stands = 3
		net, s := drawNetwork(rt, t), DefaultSettings()
		sources := drawSources(rt, net, stands)
		all := Follow(net, Released{Stands: stands, Sources: sources}, s, 1)
		var sum Balance
		for stand := range int32(stands) {
			var own []Source
			for _, src := range sources {
				if src.Stand == stand {
					own = append(own, src)
				}
			}
			alone := Follow(net, Released{Stands: stands, Sources: own}, s, 1).Outcomes[stand]
			together := all.Outcomes[stand]
			for name, pair := range map[string][2]float64{
				"released": {float64(alone.Released), float64(together.Released)}, "held": {float64(alone.Held), float64(together.Held)},
				"left": {float64(alone.Left), float64(together.Left)}, "settled": {float64(alone.Settled), float64(together.Settled)},
				"aged": {float64(alone.Aged), float64(together.Aged)}, "exposure": {float64(alone.Exposure), float64(together.Exposure)},
				"reach": {float64(alone.ReachKm), float64(together.ReachKm)}, "possible": {float64(alone.PossibleKm), float64(together.PossibleKm)},
				"own reach": {float64(alone.AloneKm), float64(alone.ReachKm)},
			} {
				if math.Abs(pair[0]-pair[1]) > 1e-9*(1+math.Abs(pair[1])) {
					rt.Errorf("stand %d, %s: %v alone, %v with the others", stand, name, pair[0], pair[1])
				}
			}
			if together.AloneKm > together.ReachKm+1e-9 {
				rt.Errorf("stand %d alone puts %v km of its %v at risk", stand, together.AloneKm, together.ReachKm)
			}
			sum.Released, sum.Settled, sum.Held = sum.Released+together.Released, sum.Settled+together.Settled, sum.Held+together.Held
			sum.Aged, sum.Left = sum.Aged+together.Aged, sum.Left+together.Left
		}
		for k, got := range []Amount{all.Balance.Released, all.Balance.Settled, all.Balance.Held, all.Balance.Aged, all.Balance.Left} {
			want := []Amount{sum.Released, sum.Settled, sum.Held, sum.Aged, sum.Left}[k]
			if math.Abs(float64(got-want)) > 1e-9*(1+float64(want)) {
				rt.Errorf("entry %d of the balance is %v, the stands have %v", k, got, want)
			}
		}
		eight := make([]Source, len(sources))
		for i, src := range sources {
			src.Amount *= 8
			eight[i] = src
		}
		for stand, got := range Follow(net, Released{Stands: stands, Sources: eight}, s, 1).Outcomes {
			want := all.Outcomes[stand]
			want.Released, want.Held, want.Left, want.Settled = 8*want.Released, 8*want.Held, 8*want.Left, 8*want.Settled
			want.Aged, want.Exposure = 8*want.Aged, 8*want.Exposure
			if math.IsNaN(float64(got.RiverKm)) && math.IsNaN(float64(want.RiverKm)) {
				got.RiverKm, want.RiverKm = 0, 0
			}
			if !reflect.DeepEqual(got, want) {
				rt.Errorf("stand %d of eight times the amounts: %+v, want %+v", stand, got, want)
			}
		}
	})
}

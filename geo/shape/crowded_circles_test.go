package shape

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// crowdOf returns discs about some places, all near them, and a few about which there is room.
func crowdOf(n int, radius func(*rand.Rand) float64) []Disc {
	random := rand.New(rand.NewPCG(3, 4))
	discs := make([]Disc, n)
	for i := range discs {
		middle := orb.Point{25 * float64(i%3), 2 * float64(i%2)}
		if i%500 == 0 {
			middle = orb.Point{random.Float64() * 90, 40 + random.Float64()*30}
		}
		discs[i] = Disc{orb.Point{middle[0] + 3*random.NormFloat64(), middle[1] + 3*random.NormFloat64()}, geo.Meters(radius(random))}
	}
	return discs
}

// The truth is every pair looked at, as in a small group.
func TestCrowdedCirclesAsPairByPair(t *testing.T) {
	for name, radius := range map[string]func(*rand.Rand) float64{
		"of one size": func(*rand.Rand) float64 { return 3.1 },
		"of many":     func(r *rand.Rand) float64 { return 3 + 0.2*r.Float64() },
	} {
		t.Run(name, func(t *testing.T) {
			discs := crowdOf(4000, radius)
			g := newMeasured(discs, 0)
			defer g.done()
			g.sagitta = 0.3 // so that there are touches
			shown := g.crowded()
			if shown == nil {
				t.Fatal("not crowded")
			}
			g.relate()
			component, touches := slices.Clone(g.component), slices.Clone(g.touches)
			g.touches = nil
			g.component = g.component[:0]
			g.relatePairs()
			first := make(map[[2]int32]bool) // pairs of names of components
			of, back := make(map[int32]int32), make(map[int32]int32)
			for i := range component {
				first[[2]int32{component[i], g.component[i]}] = true
				of[component[i]], back[g.component[i]] = g.component[i], component[i]
			}
			if len(first) != len(of) || len(first) != len(back) || len(of) < 3 {
				t.Errorf("%d components, %d pair by pair, %d of both", len(of), len(back), len(first))
			}
			want := slices.DeleteFunc(g.touches, func(c touch) bool { return !shown[c.circle] })
			if !slices.Equal(touches, want) || len(touches) == 0 {
				t.Errorf("%d touches, %d pair by pair", len(touches), len(want))
			}
		})
	}
}

func BenchmarkDrawACrowd(b *testing.B) {
	for _, n := range []int{5_000, 20_000} {
		discs := crowdOf(n, func(*rand.Rand) float64 { return 3.1 })
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for range b.N {
				DrawDiscs(discs, 0.05)
			}
		})
	}
}

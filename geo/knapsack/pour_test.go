package knapsack

import (
	"math"
	"math/rand/v2"
	"testing"
)

// In graphs large enough for pour, the set found is closed and no set has a higher gain. The
// remaining flow proves that, however it came about: by the duality of linear programmes no closed
// set has a higher gain than the excess left once amounts have moved along needs (Picard,
// Management Science 22(11), 1976, through the minimum cut).
func TestPouredClosureIsBest(t *testing.T) {
	for seed := range uint64(12) {
		random := rand.New(rand.NewPCG(seed, 5))
		n := fewPoured + random.IntN(1500)
		var needs [][]int32
		if seed%2 == 0 {
			needs = joining(random, n, 0.3*random.Float64())
		} else {
			needs = reaching(random, n, func(i int) int { return i + 1 + random.IntN(9) })
		}
		gain := make([]float64, n)
		var mean float64
		for i := range gain {
			gain[i] = (0.2 + float64(i)/float64(n)) * random.NormFloat64()
			mean += gain[i] / float64(n)
		}
		if seed%3 > 0 { // gains and losses in balance, as in the cuts
			for i := range gain {
				gain[i] -= mean
			}
		}
		provesBest(t, seed, needs, gain)
	}
}

// provesBest finds a set, and fails if its flow does not prove it the best.
func provesBest(t *testing.T, seed uint64, needs [][]int32, gain []float64) {
	t.Helper()
	var c closure
	c.links(needs)
	in := c.best(append([]float64(nil), gain...))
	var worth, all float64
	left := append([]float64(nil), gain...)
	for i := range needs {
		all += math.Abs(gain[i])
		if in[i] {
			worth += gain[i]
		}
		for k := c.start[i]; k < c.start[i+1]; k++ {
			a := c.arcs[k]
			if !a.endless {
				continue
			}
			flow := c.arcs[a.back].left
			left[i], left[a.to] = left[i]-flow, left[a.to]+flow
			if in[i] && !in[a.to] {
				t.Fatalf("seed %d: %d is in without %d", seed, i, a.to)
			}
			if flow < 0 {
				t.Fatalf("seed %d: %g moves from %d to %d", seed, flow, i, a.to)
			}
		}
	}
	var over float64
	for _, x := range left {
		over += max(0, x)
	}
	if math.Abs(worth-over) > 1e-9*all {
		t.Errorf("seed %d, %d nodes: a set worth %g, up to %g is not ruled out", seed, len(gain), worth, over)
	}
}

// In the balanced core of a giant basin almost all excess is in place after few rounds, before the
// step-by-step pushing.
func TestPourLeavesLittle(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	const n = 5000
	needs := joining(random, n, 0.1)
	gain := make([]float64, n)
	var sum, all float64
	for i := range gain {
		gain[i] = (0.1+9.9*float64(i)/n)*math.Exp(random.NormFloat64()) - 8*math.Exp(random.NormFloat64())
		sum += gain[i]
	}
	for i := range gain {
		gain[i] -= sum / n
		all += math.Abs(gain[i])
	}
	var c closure
	c.links(needs)
	c.gain = gain
	c.label, c.next, c.in = make([]int32, n), make([]int32, n), make([]bool, n)
	c.measure()
	before := c.excess()
	c.pour()
	if before < 0.1*all || c.excess() > 1e-6*all {
		t.Errorf("%g was over and %g still is, of %g", before, c.excess(), all)
	}
}

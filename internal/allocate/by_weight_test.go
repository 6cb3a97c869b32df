package allocate

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Derived by hand.
func TestByWeightByHand(t *testing.T) {
	for _, c := range []struct {
		name    string
		total   int64
		weights []float64
		atMost  []int64
		want    []int64
	}{
		{"exact", 10, []float64{1, 1, 3}, nil, []int64{2, 2, 6}},
		{"thirds: the first of equals gets the rest", 100, []float64{1, 1, 1}, nil, []int64{34, 33, 33}},
		{"the largest remainder gets the rest", 10, []float64{1.26, 1.27, 7.47}, nil, []int64{1, 1, 8}},
		{"rounding left of nothing", 7, []float64{5000, 1e-9}, nil, []int64{7, 0}},
		{"nothing", 0, []float64{1, 2}, nil, []int64{0, 0}},
		{"no weights", 5, []float64{0, 0}, nil, []int64{5, 0}},
		{"capped: the rest goes on", 10, []float64{8, 1, 1}, []int64{5, 9, 9}, []int64{5, 3, 2}},
		{"capped all over", 10, []float64{1, 1}, []int64{3, 3}, []int64{3, 3}},
		{"large", 1 << 50, []float64{1, 1, 2}, nil, []int64{1 << 48, 1 << 48, 1 << 49}},
	} {
		if d := cmp.Diff(c.want, byWeight(c.total, c.weights, c.atMost)); d != "" {
			t.Errorf("%s: %s", c.name, d)
		}
	}
}

// Parts add up to the total, stay within one of their quota, and do not depend on the order of
// unequal weights.
func TestByWeightStaysWithinQuota(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total := rapid.Int64Range(0, 1e12).Draw(t, "total")
		weights := rapid.SliceOfN(rapid.Float64Range(0, 1e6), 1, 9).Draw(t, "weights")
		weights[0] += 1 // some weight there is
		parts, sum, whole := byWeight(total, weights, nil), int64(0), 0.0
		for k := range parts {
			sum += parts[k]
			whole += weights[k]
		}
		if sum != total {
			t.Fatalf("%d of %d", sum, total)
		}
		for k := range parts {
			if quota := float64(total) * weights[k] / whole; math.Abs(float64(parts[k])-quota) > 1+1e-9*quota {
				t.Errorf("part %d is %d of %v", k, parts[k], quota)
			}
		}
	})
}

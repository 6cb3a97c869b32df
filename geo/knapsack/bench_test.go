package knapsack

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// BenchmarkBest reports how close the results come to the best possible, and in what time: the
// largest gap over several regions at 5 to 50 % of their cost.
func BenchmarkBest(b *testing.B) {
	for _, n := range []int{50, 100, 200, 400, 1000, 5000, 20_000, 170_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var worst float64
			inexact := 0
			for range b.N {
				for seed := range uint64(max(1, min(5, 5000/n))) {
					items := streamLike(rand.New(rand.NewPCG(seed, uint64(n))), n)
					for _, share := range []float64{0.05, 0.1, 0.2, 0.3, 0.5} {
						c := Best(items, share*totalCost(items), Options{})
						worst = max(worst, gapOf(c))
						if !c.Exact {
							inexact++
						}
					}
				}
			}
			b.ReportMetric(100*worst, "worst_gap_%")
			b.ReportMetric(float64(inexact)/float64(b.N), "inexact")
		})
	}
}

package trend

import (
	"cmp"
	"slices"
)

// Adjusted returns, for p-values of tests made side by side, the false discovery
// rate at which each would be told: p times the number of tests over its rank, no
// larger than that of any larger p (Benjamini and Hochberg, Journal of the Royal
// Statistical Society B 57, 289-300, 1995). The answer is in the order given.
func Adjusted(p []float64) []float64 {
	order := make([]int, len(p))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p[a], p[b]) })
	out := make([]float64, len(p))
	least := 1.0
	for rank := len(order); rank > 0; rank-- {
		i := order[rank-1]
		least = min(least, p[i]*float64(len(p))/float64(rank))
		out[i] = max(p[i], least) // but for rounding it is
	}
	return out
}

package trend

import (
	"cmp"
	"slices"
)

// Adjusted returns, for the p-values of tests made together, the false discovery rate at which each
// would be significant: p times the number of tests over its rank, but no larger than the result
// for any larger p (Benjamini and Hochberg, Journal of the Royal Statistical Society B 57, 289-300,
// 1995). Results are in the given order.
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
		out[i] = max(p[i], least) // true anyway, except for rounding
	}
	return out
}

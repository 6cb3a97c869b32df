package allocate

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// weightBits is the precision of weights: the largest is scaled to this power of two. Our choice:
// products with any total then stay within 128 bits.
const weightBits = 50

// byWeight divides total into whole numbers proportional to weights, none of which may be negative.
// Each part gets its share rounded down; the rest goes one by one to the largest remainders
// (Hamilton's method), a tie to the first. With atMost, part k is at most atMost[k]. The parts add
// up to total as far as atMost allows. If all weights are 0 the first part gets everything.
func byWeight(total int64, weights []float64, atMost []int64) []int64 {
	parts, remainder := proportion(total, weights)
	left := total
	for k := range parts {
		if atMost != nil {
			parts[k] = min(parts[k], atMost[k])
		}
		left -= parts[k]
	}
	order := make([]int, len(parts))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(remainder[b], remainder[a]) })
	for given := true; left > 0 && given; {
		given = false
		for _, k := range order {
			if left > 0 && (atMost == nil || parts[k] < atMost[k]) {
				parts[k]++
				left--
				given = true
			}
		}
	}
	return parts
}

// proportion returns the parts rounded down, exactly, and the remainders, in units of one over the
// sum of weights.
func proportion(total int64, weights []float64) (parts []int64, remainder []uint64) {
	parts, remainder = make([]int64, len(weights)), make([]uint64, len(weights))
	largest := slices.Max(weights)
	if total <= 0 {
		return parts, remainder
	}
	if !(largest > 0) {
		parts[0] = total
		return parts, remainder
	}
	whole := make([]uint64, len(weights))
	sum := uint64(0)
	for k, w := range weights {
		whole[k] = uint64(math.Round(max(0, w) / largest * (1 << weightBits)))
		sum += whole[k]
	}
	for k, w := range whole {
		high, low := bits.Mul64(uint64(total), w)
		part, rest := bits.Div64(high, low, sum)
		parts[k], remainder[k] = int64(part), rest
	}
	return parts, remainder
}

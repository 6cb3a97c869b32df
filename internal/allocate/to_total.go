package allocate

import (
	"cmp"
	"slices"
)

// ToTotal rounds amounts to multiples of step so that they add up to total, which must be such a
// multiple and within a step of their sum. Each is rounded down; the rest goes step by step to the
// largest remainders (Hamilton's method), a tie to the first. Amounts may be below 0. An amount
// that needs no rounding, such as 0, stays unchanged where possible. With atMost, part k is at most
// atMost[k].
func ToTotal(total int64, amounts []int64, step int64, atMost []int64) []int64 {
	parts, rest := make([]int64, len(amounts)), make([]int64, len(amounts))
	left := total
	for k, amount := range amounts {
		rest[k] = ((amount % step) + step) % step
		parts[k] = amount - rest[k]
		if atMost != nil && parts[k] > atMost[k] {
			parts[k] = atMost[k]
		}
		left -= parts[k]
	}
	order := make([]int, len(parts))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rest[b], rest[a]) })
	for given := true; left > 0 && given; {
		given = false
		for _, k := range order {
			if left > 0 && amounts[k] != 0 && (atMost == nil || parts[k] < atMost[k]) {
				parts[k] += step
				left -= step
				given = true
			}
		}
	}
	for taken := true; left < 0 && taken; { // from those with the smallest remainder
		taken = false
		for _, k := range slices.Backward(order) {
			if left < 0 && (parts[k] > 0 || amounts[k] < 0) {
				parts[k] -= step
				left += step
				taken = true
			}
		}
	}
	return parts
}

// Round rounds an amount to a multiple of step, half away from zero.
func Round(amount, step int64) int64 {
	half := step / 2
	if amount < 0 {
		return -((-amount + half) / step * step)
	}
	return (amount + half) / step * step
}

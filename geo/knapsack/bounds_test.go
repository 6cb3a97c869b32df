package knapsack

import "math"

// gapOf returns how far the value may be below the best possible, as a share of the bound: 0 when
// exact.
func gapOf(c Choice) float64 {
	if c.Exact || c.Bound <= c.Value {
		return 0
	}
	return (c.Bound - c.Value) / math.Abs(c.Bound)
}

// boundOf returns an upper bound, to rounding, for the value of any set within a budget: on the
// straight lines between nested sets. Items fixed in count as a whole.
func boundOf(ps Pieces, budget float64) float64 {
	value, cost := ps[0].Value, ps[0].Cost
	for _, p := range ps[1:] {
		left := max(0, budget-cost)
		switch {
		case p.Value < 0 || p.Value == 0 && p.Cost > 0:
			return value
		case p.Cost > left:
			return value + p.Value*left/p.Cost
		}
		value, cost = value+p.Value, cost+p.Cost
	}
	return value
}

package result

import "driftreach/internal/drift"

// massBalance is one stand's fragments in fixed point: released = settled + held + aged + left,
// exactly. None is negative.
type massBalance struct{ released, settled, held, aged, left int64 }

// massBalanceOf rounds an outcome so that its parts still add up; settled absorbs the rounding of the
// others.
func massBalanceOf(o drift.Outcome) massBalance {
	round := func(x drift.Amount) int64 {
		n, ok := scaled(float64(x), Index.Decimals())
		if !ok || n < 0 {
			return 0
		}
		return n
	}
	b := massBalance{released: round(o.Released)}
	b.held = min(round(o.Held), b.released)
	b.aged = min(round(o.Aged), b.released-b.held)
	b.left = min(round(o.Left), b.released-b.held-b.aged)
	b.settled = b.released - b.held - b.aged - b.left
	return b
}

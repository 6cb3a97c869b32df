package learn

import (
	"driftreach/geo"
	"driftreach/internal/drift"
)

// look is one cell of stream surveyed in a batch and in an earlier one: a new stand found there was
// not there before.
type look struct {
	cell       int32
	now, since int32   // indices of the two batches
	banks      float64 // share of its banks surveyed both times, 0.5 or 1
	risk       drift.Class
	everAtRisk bool         // in any batch since the earlier look
	exposure   drift.Amount // amount afloat, summed over the quarters in between
}

// looks lists every look, by batch and cell.
func (c *Chain) looks() []look {
	var out []look
	for cell := range c.Grid.Cells {
		out = append(out, c.looksAt(int32(cell))...)
	}
	return out
}

// looksAt lists the looks at one cell.
func (c *Chain) looksAt(cell int32) []look {
	var out []look
	last := [2]int32{-1, -1} // by bank: the last batch that surveyed it
	for now := range c.Batches {
		looked := c.Batches[now].lookedIn(cell)
		one := look{cell: cell, now: int32(now), since: -1, risk: drift.Possible}
		for side := range looked {
			if looked[side] && last[side] >= 0 {
				one.banks += 0.5
				one.since = max(one.since, last[side])
			}
			if looked[side] {
				last[side] = int32(now)
			}
		}
		if one.since >= 0 {
			c.expose(&one)
			out = append(out, one)
		}
	}
	return out
}

// expose sums the exposure between the two looks, from the stands known in each batch, and sets the
// class of the batch before the second look.
func (c *Chain) expose(one *look) {
	at := c.Grid.Cells[one.cell].Middle
	for q := one.since; q < one.now; q++ {
		b := &c.Batches[q]
		one.exposure += b.afloat[one.cell] * drift.Amount(c.between(q))
		if b.drift.AtRisk(at) {
			one.everAtRisk = true
			if q == one.now-1 {
				one.risk = b.Rules.Drift.ClassOf(b.afloat[one.cell])
			}
		}
	}
}

// between returns the quarters from a batch to the next one.
func (c *Chain) between(batch int32) int {
	return quartersTo(c.Batches[batch].Quarter, c.Batches[batch+1].Quarter)
}

// km is the length of stream covered by a look.
func (c *Chain) km(l *look) geo.Kilometers {
	return geo.Kilometers(l.banks) * c.Grid.Cells[l.cell].Length.Kilometers()
}

// quarters is the time covered by the look.
func (c *Chain) quarters(l *look) float64 {
	return float64(quartersTo(c.Batches[l.since].Quarter, c.Batches[l.now].Quarter))
}

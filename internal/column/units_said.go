package column

import (
	"fmt"

	"driftreach/internal/cell"
	"driftreach/internal/check"
)

// unitsSaid counts the numbers of a field with and without a unit in their cell; of those without, the
// ones between 0 and 1, and the ones above 1. Of areas in square metres it counts the tiny ones without
// a unit, and has the least.
type unitsSaid struct {
	named, plain, between, above, tiny int
	least                              float64
}

// tinyPatch is an area in square metres below which patches are rarely measured. Our choice: half a
// metre on each side.
const tinyPatch = 0.25

// count counts a number without a unit.
func (s *unitsSaid) count(v float64) {
	s.plain++
	switch {
	case v > 1:
		s.above++
	case v > 0 && v < 1:
		s.between++
	}
}

// countArea counts an area in square metres that was written without a unit.
func (s *unitsSaid) countArea(m2 float64) {
	if !(m2 > 0 && m2 < tinyPatch) {
		return
	}
	if s.tiny++; s.tiny == 1 || m2 < s.least {
		s.least = m2
	}
}

// notable says whether so many of some numbers are a pattern and no slip. Our choice: three, and one in
// ten.
func notable(n, of int) bool { return n >= 3 && 10*n >= of }

// tellShares reports percentages of which none is above 1 and some are between 0 and 1: they look like
// shares, and would be read a hundred times too small. It also reports those of which many, but not all,
// are between 0 and 1: two people may have written them.
func (c *Columns) tellShares(tell teller) {
	for i, s := range c.said {
		field := c.fields[i]
		if field.In != cell.Percent || s.between == 0 || c.mapping.unit(field.Name) != "" {
			continue
		}
		for _, column := range c.columns[i][:min(1, len(c.columns[i]))] {
			switch {
			case s.above == 0 && s.named == 0:
				tell(ruleShares, field.Name, column.name, fmt.Sprintf("no number of the column %q is above 1, and %d lie between 0 and 1; they were read as percent, so 0.35 is 0.35 %%", column.name, s.between))
			case s.above > 0 && notable(s.between, s.plain):
				tell(ruleSomeShares, field.Name, column.name, fmt.Sprintf("%d of the %d numbers in the column %q lie between 0 and 1, the others do not; all were read as percent, so 0.35 is 0.35 %%", s.between, s.plain, column.name))
			}
		}
	}
}

// tellTinyAreas reports areas of which many are so small that they look like acres or hectares.
func (c *Columns) tellTinyAreas(tell teller) {
	for i, s := range c.said {
		field := c.fields[i]
		if !notable(s.tiny, s.plain) || c.mapping.unit(field.Name) != "" {
			continue
		}
		for _, column := range c.columns[i][:min(1, len(c.columns[i]))] {
			tell(ruleTinyAreas, field.Name, column.name, fmt.Sprintf("%d of the %d numbers in the column %q are below %s m2, the least %s m2; acres and hectares look like this", s.tiny, s.plain, column.name, check.Number(tinyPatch), check.Number(s.least)))
		}
	}
}
